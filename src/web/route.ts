import { useSyncExternalStore } from 'react';

/** Which page is open. */
export type Route =
  | { readonly page: 'shelf' }
  | { readonly page: 'new' }
  | { readonly page: 'lesson'; readonly id: string }
  | { readonly page: 'camera'; readonly id: string }
  | { readonly page: 'techniques' }
  | { readonly page: 'compare'; readonly first: string | null; readonly second: string | null }
  | { readonly page: 'newSet' }
  | { readonly page: 'set'; readonly id: string }
  | { readonly page: 'nowhere' };

const routeOf = (path: string): Route => {
  if (path === '/') return { page: 'shelf' };
  if (path === '/new') return { page: 'new' };
  if (path === '/techniques') return { page: 'techniques' };
  if (path === '/compare') return { page: 'compare', first: null, second: null };
  const [, first, second] = /^\/compare\/([^/]+)\/([^/]+)$/.exec(path) ?? [];
  if (first !== undefined && second !== undefined)
    return { page: 'compare', first: decodeURIComponent(first), second: decodeURIComponent(second) };
  if (path === '/set') return { page: 'newSet' };
  const [, set] = /^\/set\/([^/]+)$/.exec(path) ?? [];
  if (set !== undefined) return { page: 'set', id: decodeURIComponent(set) };
  const [, id, page] = /^\/lesson\/([^/]+)(\/camera)?$/.exec(path) ?? [];
  if (id === undefined) return { page: 'nowhere' };
  return { page: page === undefined ? 'lesson' : 'camera', id: decodeURIComponent(id) };
};

/** Address of a lesson. */
export const lessonAddress = (id: string): string => `/lesson/${encodeURIComponent(id)}`;

/** Address of a lesson, opened at a bar of so printed a number. */
export const barAddress = (id: string, bar: number): string => `${lessonAddress(id)}#bar${bar}`;

/** The bar that the address asks for, by its printed number; null: none. */
export const barAskedFor = (): number | null => {
  const [, number] = /^#bar(\d+)$/.exec(location.hash) ?? [];
  return number === undefined ? null : Number(number);
};

/** Address of two lessons compared. */
export const compareAddress = (first: string, second: string): string =>
  `/compare/${encodeURIComponent(first)}/${encodeURIComponent(second)}`;

/** Address of a set. */
export const setAddress = (id: string): string => `/set/${encodeURIComponent(id)}`;

/** Address of a lesson's running order before the camera. */
export const cameraAddress = (id: string): string => `${lessonAddress(id)}/camera`;

const listeners = new Set<() => void>();
const tell = (): void => {
  for (const listener of listeners) listener();
};
addEventListener('popstate', tell);

/** Opens a page. */
export const goTo = (path: string): void => {
  history.pushState(null, '', path);
  scrollTo(0, 0);
  tell();
};

/** The page that is open. */
export const useRoute = (): Route =>
  routeOf(
    useSyncExternalStore(
      (listener) => {
        listeners.add(listener);
        return () => void listeners.delete(listener);
      },
      () => location.pathname,
    ),
  );

/** A click that a link may answer itself: with no key that asks for another window. */
export const isPlainClick = (event: {
  readonly button: number;
  readonly metaKey: boolean;
  readonly ctrlKey: boolean;
  readonly shiftKey: boolean;
}): boolean => event.button === 0 && !event.metaKey && !event.ctrlKey && !event.shiftKey;
