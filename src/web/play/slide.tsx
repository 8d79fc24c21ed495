import { useId } from 'react';

interface SlideProps {
  readonly name: string;
  readonly value: number;
  readonly least: number;
  readonly most: number;
  readonly step: number;
  readonly says: string;
  readonly set: (value: number) => void;
}

/** A bead on a line. */
export const Slide = ({ name, value, least, most, step, says, set }: SlideProps) => {
  const id = useId();
  return (
    <div className="slide">
      <label htmlFor={id}>{name}</label>
      <input
        id={id}
        type="range"
        min={least}
        max={most}
        step={step}
        value={value}
        aria-valuetext={says}
        onChange={(event) => set(Number(event.target.value))}
      />
      <output htmlFor={id}>{says}</output>
    </div>
  );
};
