/** Where the map was left in this browser: there a project begins that has nothing in it yet. */
export interface Look {
  readonly center: readonly [lng: number, lat: number];
  readonly zoom: number;
}

/** The 48 states from coast to coast, about: nobody has said where their ground is. */
export const widestLook: Look = { center: [-98.5, 39.5], zoom: 4 };

const key = 'assart last look';

export function rememberLook({ center, zoom }: Look, storage = () => localStorage): void {
  try {
    storage().setItem(key, JSON.stringify([...center, zoom]));
  } catch {
    // Nothing can be kept here: the next empty project begins with the widest look.
  }
}

/** The last place looked at; the widest look where there is none, or what is kept is no place. */
export function recallLook(storage = () => localStorage): Look {
  try {
    const kept: unknown = JSON.parse(storage().getItem(key) ?? 'null');
    if (!Array.isArray(kept)) return widestLook;
    const [lng, lat, zoom] = kept.map(Number) as [number, number, number];
    const isPlace = Math.abs(lng) <= 180 && Math.abs(lat) <= 85 && zoom >= 0 && zoom <= 24;
    return isPlace ? { center: [lng, lat], zoom } : widestLook;
  } catch {
    return widestLook;
  }
}
