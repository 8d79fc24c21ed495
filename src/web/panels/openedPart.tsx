import { wording } from '../wording/index.ts';

interface OpenedProps {
  readonly address: string;
  readonly what: string;
  readonly close: () => void;
}

const { pack } = wording;

/** A file of the pack, seen or heard in its place. */
export const OpenedPart = ({ address, what, close }: OpenedProps) => {
  const isSound = /\.(mp3|flac|wav)$/.test(address);
  return (
    <section className="opened" aria-label={what}>
      <h3>{what}</h3>
      {isSound ? (
        // biome-ignore lint/a11y/useMediaCaption: a tune that is played has no words
        <audio controls src={address} aria-label={what} />
      ) : (
        <iframe src={address} title={what} />
      )}
      <p>
        <a href={address} target="_blank" rel="noreferrer">
          {pack.ownWindow}
        </a>{' '}
        <a href={`${address}?save=1`} download>
          {pack.save}
        </a>{' '}
        <button type="button" className="word" onClick={close}>
          {wording.panels.close}
        </button>
      </p>
    </section>
  );
};
