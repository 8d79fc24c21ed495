import { AUDIENCES, type Audience, type PackPart } from '../../protocol/index.ts';
import { wording } from '../wording/index.ts';

interface PartsProps {
  readonly parts: readonly PackPart[];
  /** Ids of the parts that are left out. */
  readonly left: ReadonlySet<string>;
  readonly leave: (left: ReadonlySet<string>) => void;
  readonly open: (file: { readonly path: string; readonly what: string }) => void;
  readonly rebuild: (part: PackPart) => void;
  readonly isBuilding: boolean;
  readonly setAudience: (part: PackPart, audience: Audience) => void;
}

const { pack } = wording;
const KINDS = ['sheet', 'page', 'track', 'text'] as const;

/** "sheet: The bones, A4" under "Sheets": "The bones, A4". */
const nameUnderHeading = (what: string): string => what.replace(/^(?:sheet|track): /, '');

const PartRow = ({
  part,
  left,
  leave,
  open,
  rebuild,
  isBuilding,
  setAudience,
}: Omit<PartsProps, 'parts'> & { part: PackPart }) => {
  const isIn = !left.has(part.id);
  const [path] = part.paths;
  const toggle = (): void => {
    const next = new Set(left);
    if (isIn) next.add(part.id);
    else next.delete(part.id);
    leave(next);
  };
  return (
    <li className={part.state}>
      <label className="tick">
        <input type="checkbox" checked={isIn} onChange={toggle} />
        <span>{nameUnderHeading(part.what)}</span>
      </label>
      <span className="quiet">{pack.state[part.state]}</span>
      <span className="acts">
        {part.state !== 'missing' && path !== undefined && (
          <button
            type="button"
            className="word"
            aria-label={pack.openOf(part.what)}
            onClick={() => open({ path, what: part.what })}
          >
            {pack.open}
          </button>
        )}
        {part.state === 'outOfDate' && (
          <button
            type="button"
            className="word"
            disabled={isBuilding}
            aria-label={pack.rebuildOf(part.what)}
            onClick={() => rebuild(part)}
          >
            {pack.rebuild}
          </button>
        )}
        <select
          value={part.audience}
          aria-label={pack.audienceOf(part.what)}
          onChange={(event) => {
            const next = AUDIENCES.find((a) => a === event.target.value);
            if (next !== undefined) setAudience(part, next);
          }}
        >
          {AUDIENCES.map((a) => (
            <option key={a} value={a}>
              {pack.audience[a]}
            </option>
          ))}
        </select>
      </span>
    </li>
  );
};

/** The parts of a pack by kind: which are built, how they stand, for whom they are. */
export const PackParts = ({ parts, ...others }: PartsProps) => (
  <>
    {KINDS.map((kind) => {
      const some = parts.filter((part) => part.kind === kind);
      return some.length === 0 ? null : (
        <section key={kind} className="group">
          <h3>{pack.kind[kind]}</h3>
          <ul className="parts">
            {some.map((part) => (
              <PartRow key={part.id} part={part} {...others} />
            ))}
          </ul>
        </section>
      );
    })}
  </>
);
