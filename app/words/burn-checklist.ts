/**
 * What is usual before a winter burn (trade notes S8 to S11, handbook §12.1; the rest common
 * practice, no source). A list to go through with those who decide, never leave to burn.
 */
export const burnChecklist: readonly string[] = [
  'Permit and season from the state forestry agency; the fire department and the neighbors told the day before.',
  'Piled a dry season at least, six months or more, with little soil in it: dirty piles smolder for weeks.',
  'Lying snow all round, or a strip bladed to mineral soil, and cold that holds for days.',
  'Light wind away from houses and roads, smoke that rises: after the morning inversion has lifted.',
  'A machine, water and people on the spot until it is out; sparks can travel half a mile.',
  'Few at a time: a county fire service prints five.',
  'Nothing in it but wood: no tires, treated lumber, or what came off a building.',
];
