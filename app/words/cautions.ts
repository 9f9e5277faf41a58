/**
 * Short cautions and whom to ask (trade notes §5). The plan is screening, not permission, and it
 * defers to the state, the county and the people named here.
 */
export interface Caution {
  readonly text: string;
  readonly ask: string;
}

export const cautions = {
  screening: {
    text: 'Screening, not a survey and not a permit. Local codes rule.',
    ask: 'a licensed surveyor where a line or a height must hold',
  },
  deed: {
    text: 'A sketch of a deed is no survey: it shows what the deed says, not where the corners are.',
    ask: 'a licensed surveyor to set the corners before you clear or build along a line',
  },
  slope: {
    text: 'No slope here is cleared for a machine: follow the maker’s limits, and stay off wet side slopes.',
    ask: 'the operator manual and OSHA 1910.266',
  },
  dig: {
    text: 'Call 811 before you dig. Private lines (well, cabin, yard light) are not marked by that service.',
    ask: 'the one-call center, and a private locator',
  },
  overhead: {
    text: 'Keep blade, boom and stand 10 ft from a power line up to 50 kV, 20 ft where the voltage is not known.',
    ask: 'the power company',
  },
  disturbance: {
    text: 'An acre or more of bared soil can need a stormwater permit; exemptions differ by state.',
    ask: 'the state stormwater program or the conservation district',
  },
  wetland: {
    text: 'Standing water can mean wetland. Do not drain, clear or push there before it has been looked at.',
    ask: 'the Corps of Engineers district, the state agency, or the NRCS office',
  },
  clearing: {
    text: 'Felling and pushing kill: keep people two tree lengths from a saw and 100 ft from a dozer, and cut no leaner or hung tree alone.',
    ask: 'a trained sawyer, the operator manual and OSHA 1910.266',
  },
  berm: {
    text: 'Lay no berm across a draw: it dams water. One that will be burned needs clearance from the trees.',
    ask: 'the state forestry agency and the fire department',
  },
  burn: {
    text: 'Burning needs a permit, the season, snow or a mineral strip, and people on the spot. Distances here are no permission and no go signal.',
    ask: 'the state forestry agency and the fire department, every time',
  },
  stand: {
    text: 'Wear a full-body harness from the ground up. The map is no proof of a safe shot or of a setback.',
    ask: 'the state wildlife agency and the stand maker’s instructions',
  },
  shot: {
    text: 'Know your target and what is beyond it, every shot. Directions and distances here are advice: no permission, no proof, and blind to people, houses and roads that are not drawn.',
    ask: 'the state wildlife agency for setbacks and hours, a hunter-education instructor for the shot',
  },
} as const satisfies Readonly<Record<string, Caution>>;

export type CautionName = keyof typeof cautions;
