import { pieces } from '../state/told.ts';

/** A sentence of the server in the language of the page; what has no translation is marked as English. */
export function Told({ children: told }: { children: string }) {
  return (
    <>
      {pieces(told).map(({ text, known }, index) => (
        <span key={`${index} ${text}`} lang={known ? undefined : 'en'}>
          {index > 0 && ' '}
          {text}
        </span>
      ))}
    </>
  );
}
