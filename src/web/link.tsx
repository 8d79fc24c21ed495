import type { ReactNode } from 'react';
import { goTo, isPlainClick } from './route.ts';

/** A link to another page of the workbench. */
export const Link = ({
  to,
  className,
  children,
}: {
  to: string;
  className?: string;
  children: ReactNode;
}) => (
  <a
    href={to}
    className={className}
    onClick={(event) => {
      if (!isPlainClick(event)) return;
      event.preventDefault();
      goTo(to);
    }}
  >
    {children}
  </a>
);
