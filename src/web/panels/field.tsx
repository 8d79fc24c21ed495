import { type ReactNode, useId, useState } from 'react';

interface FieldProps {
  readonly label: string;
  /** A short explanation. */
  readonly about?: string;
}

/** A choice of one among a few, with a line that explains it. */
export const Choice = <T extends string | number>({
  label,
  about,
  value,
  of,
  set,
}: FieldProps & {
  readonly value: T;
  readonly of: readonly (readonly [value: T, words: string])[];
  readonly set: (value: T) => void;
}) => {
  const id = useId();
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <select
        id={id}
        value={String(value)}
        aria-describedby={about === undefined ? undefined : `${id}-about`}
        onChange={(event) => {
          const found = of.find(([each]) => String(each) === event.target.value);
          if (found !== undefined) set(found[0]);
        }}
      >
        {of.map(([each, words]) => (
          <option key={String(each)} value={String(each)}>
            {words}
          </option>
        ))}
      </select>
      {about !== undefined && (
        <p className="quiet" id={`${id}-about`}>
          {about}
        </p>
      )}
    </div>
  );
};

/** Yes or no. */
export const Tick = ({
  label,
  about,
  checked,
  set,
}: FieldProps & { readonly checked: boolean; readonly set: (checked: boolean) => void }) => (
  <div className="field">
    <label className="tick">
      <input type="checkbox" checked={checked} onChange={(event) => set(event.target.checked)} />
      <span>{label}</span>
    </label>
    {about !== undefined && <p className="quiet">{about}</p>}
  </div>
);

/** A number that may be left open; what stands in it is taken when it is whole and within its range. */
export const Count = ({
  label,
  about,
  value,
  usual,
  least,
  most,
  set,
}: FieldProps & {
  readonly value: number | null;
  /** What holds while it is open. */
  readonly usual: number;
  readonly least: number;
  readonly most: number;
  readonly set: (value: number | null) => void;
}) => {
  const id = useId();
  const [typed, setTyped] = useState<string | null>(null);
  const take = (text: string): void => {
    setTyped(text);
    if (text.trim() === '') set(null);
    const number = Number(text);
    if (text.trim() !== '' && number >= least && number <= most) set(number);
  };
  const isWrong = typed !== null && typed.trim() !== '' && !(Number(typed) >= least && Number(typed) <= most);
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      <input
        id={id}
        type="number"
        inputMode="numeric"
        min={least}
        max={most}
        placeholder={String(usual)}
        value={typed ?? value ?? ''}
        aria-invalid={isWrong}
        onChange={(event) => take(event.target.value)}
        onBlur={() => setTyped(null)}
      />
      {isWrong && <p className="trouble">{`${least} to ${most}`}</p>}
      {about !== undefined && <p className="quiet">{about}</p>}
    </div>
  );
};

/** A line or some lines of text, taken as it is typed. */
export const Words = ({
  label,
  about,
  value,
  lines = 1,
  set,
}: FieldProps & {
  readonly value: string;
  readonly lines?: number;
  readonly set: (value: string) => void;
}) => {
  const id = useId();
  const field = { id, value, onChange: (event: { target: { value: string } }) => set(event.target.value) };
  return (
    <div className="field">
      <label htmlFor={id}>{label}</label>
      {lines === 1 ? <input type="text" maxLength={200} {...field} /> : <textarea rows={lines} {...field} />}
      {about !== undefined && <p className="quiet">{about}</p>}
    </div>
  );
};

/** Settings that belong together. */
export const Group = ({ heading, children }: { readonly heading: string; readonly children: ReactNode }) => (
  <section className="group">
    <h3>{heading}</h3>
    {children}
  </section>
);
