import { useEffect, useState } from 'react';
import type { StoredLesson } from '../../protocol/index.ts';
import type { LessonDesk } from '../desk/lessonDesk.ts';
import { Link } from '../link.tsx';
import { server } from '../server.ts';
import { wording } from '../wording/index.ts';
import { BrokenLesson } from './brokenLesson.tsx';
import { deskFor } from './deskFor.ts';
import { LessonPage } from './lessonPage.tsx';

/** A lesson that has been fetched, and the desk that it lies on. */
interface Opened {
  readonly stored: StoredLesson;
  readonly desk: LessonDesk;
}

/** Fetches a lesson and puts it on the desk. */
export const LessonDoor = ({ id }: { id: string }) => {
  const [opened, setOpened] = useState<Opened | null>(null);
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    let desk: LessonDesk | null = null;
    let left = false;
    server.lesson(id).then(
      (stored) => {
        if (left) return;
        desk = deskFor(stored);
        setOpened({ stored, desk });
      },
      (error: unknown) => setTrouble(error instanceof Error ? error.message : String(error)),
    );
    return () => {
      left = true;
      desk?.close();
    };
  }, [id]);
  if (opened === null)
    return (
      <main className="page">
        <p className="crumb">
          <Link to="/">{wording.making.back}</Link>
        </p>
        <p role={trouble === '' ? 'status' : 'alert'}>{trouble === '' ? wording.loading : trouble}</p>
      </main>
    );
  if (opened.stored.problems.length > 0) return <BrokenLesson stored={opened.stored} />;
  return <LessonPage id={id} stored={opened.stored} desk={opened.desk} />;
};
