import { useStore } from 'zustand';
import { session, type Session } from './session.ts';

/** Select one primitive or one stable reference: a selector that builds an object never settles. */
export function useSession<T>(select: (session: Session) => T): T {
  return useStore(session, select);
}
