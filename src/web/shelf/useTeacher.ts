import { useState } from 'react';

/** Where this browser keeps the name. */
const PLACE = 'teacher';

const remembered = (): string => {
  try {
    return localStorage.getItem(PLACE) ?? '';
  } catch {
    return '';
  }
};

/** The teacher's name, as it was typed last time, and how to change it. */
export const useTeacher = (): readonly [string, (name: string) => void] => {
  const [name, setName] = useState(remembered);
  const change = (next: string): void => {
    setName(next);
    try {
      localStorage.setItem(PLACE, next);
    } catch {
      // A browser without storage forgets.
    }
  };
  return [name, change];
};
