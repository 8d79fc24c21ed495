import { useEffect, useState } from 'react';
import type { StoredLesson } from '../../protocol/index.ts';
import { server } from '../server.ts';
import { wording } from '../wording/index.ts';
import { CameraPage } from './cameraPage.tsx';

/** Fetches a lesson for the page before the camera. */
export const CameraDoor = ({ id }: { readonly id: string }) => {
  const [stored, setStored] = useState<StoredLesson | null>(null);
  const [trouble, setTrouble] = useState('');
  useEffect(() => {
    server
      .lesson(id)
      .then(setStored, (error: unknown) =>
        setTrouble(error instanceof Error ? error.message : String(error)),
      );
  }, [id]);
  return stored === null ? (
    <main className="camera">{trouble === '' ? wording.loading : trouble}</main>
  ) : (
    <CameraPage id={id} stored={stored} />
  );
};
