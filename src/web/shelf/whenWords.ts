const DAY = 86_400_000;

/**
 * A moment as people say it, seen from another one: "just now", "today at 14:05", "yesterday", "3 November".
 * @param when - ISO 8601
 */
export const whenWords = (when: string, now: Date): string => {
  const then = new Date(when);
  if (Number.isNaN(then.getTime())) return '';
  const seconds = (now.getTime() - then.getTime()) / 1000;
  if (seconds >= 0 && seconds < 60) return 'just now';
  const midnight = new Date(now.getFullYear(), now.getMonth(), now.getDate()).getTime();
  const time = `${then.getHours()}:${String(then.getMinutes()).padStart(2, '0')}`;
  if (then.getTime() >= midnight && then.getTime() < midnight + DAY) return `today at ${time}`;
  if (then.getTime() >= midnight - DAY && then.getTime() < midnight) return `yesterday at ${time}`;
  const sameYear = then.getFullYear() === now.getFullYear();
  return then.toLocaleDateString('en-GB', {
    day: 'numeric',
    month: 'long',
    ...(sameYear ? {} : { year: 'numeric' }),
  });
};
