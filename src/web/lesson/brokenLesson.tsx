import type { StoredLesson } from '../../protocol/index.ts';
import { Link } from '../link.tsx';
import { wording } from '../wording/index.ts';

const { broken } = wording;

/** A lesson whose files cannot be read: what is wrong, and what can be saved of it. Nothing is written. */
export const BrokenLesson = ({ stored }: { stored: StoredLesson }) => (
  <main className="page">
    <p className="crumb">
      <Link to="/">{wording.making.back}</Link>
    </p>
    <h1>{stored.id}</h1>
    <p>{broken.what}</p>
    <ul className="problems">
      {stored.problems.map((problem) => (
        <li key={problem}>{problem}</li>
      ))}
    </ul>
    <p>{broken.remedy}</p>
    {stored.abc !== '' && (
      <section>
        <h2>{broken.tune}</h2>
        <textarea readOnly rows={16} value={stored.abc} aria-label={broken.tune} />
      </section>
    )}
    {stored.settings !== '' && (
      <section>
        <h2>{broken.settings}</h2>
        <textarea readOnly rows={10} value={stored.settings} aria-label={broken.settings} />
      </section>
    )}
  </main>
);
