import { useEffect, useState } from 'react';

/** The present, renewed every so many milliseconds. */
export function useClock(everyMilliseconds: number): number {
  const [now, setNow] = useState(() => Date.now());
  useEffect(() => {
    const timer = setInterval(() => setNow(Date.now()), everyMilliseconds);
    return () => clearInterval(timer);
  }, [everyMilliseconds]);
  return now;
}

/** True once `active` has lasted so long: short work shows nothing. */
export function useLasting(active: boolean, milliseconds: number): boolean {
  const [lasted, setLasted] = useState(false);
  useEffect(() => {
    if (!active) return;
    const timer = setTimeout(() => setLasted(true), milliseconds);
    return () => {
      clearTimeout(timer);
      setLasted(false);
    };
  }, [active, milliseconds]);
  return active && lasted;
}
