/** One name for an answer wherever it is listed: "storm" of the site, "plotGround/A" of a feature. */
export function answerKey(name: string, featureId: string | null): string {
  return featureId === null ? name : `${name}/${featureId}`;
}
