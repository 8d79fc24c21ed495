import { wording } from '../wording/index.ts';

/** All keys. */
export const KeysPanel = () => (
  <dl className="keys">
    {wording.keys.list.map(([key, does]) => (
      <div key={key}>
        <dt>{key}</dt>
        <dd>{does}</dd>
      </div>
    ))}
  </dl>
);
