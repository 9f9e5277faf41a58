/** One name for an answer wherever it is listed: "storm" of the site, "plotGround/A" of a feature. */
export function answerKey(name: string, featureId: string | null): string {
  return featureId === null ? name : `${name}/${featureId}`;
}

/** Name and feature of a key; names hold no slash, ids may. */
export function splitKey(key: string): readonly [name: string, featureId: string | null] {
  const at = key.indexOf('/');
  return at < 0 ? [key, null] : [key.slice(0, at), key.slice(at + 1)];
}
