import { useEffect, useRef, type RefObject } from 'react';

/** Brings an element into sight of its panel whenever what it is about changes to something. */
export function useInSight<E extends HTMLElement>(about: unknown): RefObject<E | null> {
  const ref = useRef<E>(null);
  useEffect(() => {
    if (about !== null) ref.current?.scrollIntoView({ block: 'nearest' });
  }, [about]);
  return ref;
}
