import type { Finding } from '../../geo/answers/finding.ts';
import { inchesFromMeters } from '../../geo/frame/units.ts';
import { aboutLength, debrisQuantity } from './debris-words.ts';
import { figure, lengthQuantity, shareQuantity, spoken, tape, type UnitSystem } from './format.ts';
import { horsepower } from './machine-words.ts';
import type { Writer } from './findings.ts';

type Values = Finding['values'];

/** Sentences of the findings about clearing and debris. */
export const debrisWriters: Readonly<Record<string, Writer>> = {
  'tally-empty': () => ({
    lead: 'Tally the trees.',
    rest: 'Count a strip, or write down stems per acre by diameter; until then its debris is not known.',
  }),
  'surface-elsewhere': () => ({
    lead: 'Open a surface in the ground’s own coordinates.',
    rest: 'The one in use lies in another system, so the two cannot be set against each other.',
  }),
  'canopy-without-trees': () => ({
    lead: 'Count a strip instead.',
    rest: 'No tree tops show in the surface there.',
  }),
  'tally-diameter-unit': () => ({
    lead: 'Say which unit the diameters were taken in.',
    rest: 'The trees are thicker than can stand so close: centimeters may have been written as inches.',
  }),
  'tally-too-dense': () => ({
    lead: 'Say what the count is for.',
    rest: 'It has more trees than can stand on that ground: per acre, or for the whole block?',
  }),
  'number-out-of-range': () => ({
    lead: 'Look at the numbers again.',
    rest: 'One of them cannot be, so nothing is worked out from them.',
  }),
  'stumps-not-said': () => ({
    lead: 'Say what becomes of the stumps.',
    rest: 'They are taken as pulled, and the range is wide enough for either.',
  }),
  'tops-not-said': () => ({
    lead: 'Say whether the tops of the sold trees are hauled.',
    rest: 'They are taken as kept, and the range is wide enough for either.',
  }),
  'topsoil-into-piles': (values, units) => ({
    lead: 'Push with a rake, and shake the roots.',
    rest: `About ${depth(values['depthMeters'], units)} of topsoil would go into the piles, up to ${depth(values['highMeters'], units)} where they are dirty.`,
  }),
  'blocks-not-tallied': (values) => ({
    lead: 'Tally the rest.',
    rest: `${count(values['count'], 'timber block is', 'timber blocks are')} not in the sum, because nobody has counted the trees.`,
  }),
  'debris-without-place': (values, units) => ({
    lead: 'Find a place for the rest of the debris.',
    rest: `${volume(values['cubicMeters'], units)} (${share(values['share'])} of it) has no berm or brush pile with room within ${length(values['reachMeters'], units)}.`,
  }),
  'mark-cleared-ground': () => ({
    lead: 'Mark the ground cleared so far.',
    rest: 'A heap is taped, but no clearing has the date it was cleared on: draw it over the ground that the heap came from, and date it.',
  }),
  'tape-a-heap': () => ({
    lead: 'Tape the first heap.',
    rest: 'Ground is marked as cleared, but no heap says its length, width and height.',
  }),
  'little-cleared': (values) => ({
    lead: 'Tape another heap before you rely on it.',
    rest: `Only ${share(values['clearedShare'])} of the debris is on the ground; one heap says little of the rest.`,
  }),
  'far-from-estimate': (values) => ({
    lead: 'Check the tape and the ground marked as cleared.',
    rest: `The job would make ${typeof values['ratio'] === 'number' ? figure(values['ratio'], 1) : 'many'} times what the tally said.`,
  }),
  'debris-remeasured': (values, units) => ({
    lead: 'The taped heaps stand in for the tally.',
    rest: `The job makes ${volume(values['nowCubicMeters'], units)} where the tally said ${volume(values['wasCubicMeters'], units)}${typeof values['ratio'] === 'number' ? `, ${figure(values['ratio'], 2)} times as much` : ''}; berms, ways and hours follow.`,
  }),
  'berm-leaves-over': (values, units) => ({
    lead: 'Give the debris more room.',
    rest: `At its greatest height of ${length(values['heightMeters'], units)} this berm leaves ${volume(values['cubicMeters'], units)} over. ${roomWords(values, units)}`,
  }),
  'berm-too-small': (values, units) => ({
    lead: 'Make the berm larger, or draw a brush pile.',
    rest: `It holds ${volume(values['holdsCubicMeters'], units)} as drawn and ${volume(values['shareCubicMeters'], units)} is nearest to it. ${sizeWords(values, units)}`,
  }),
  'berm-not-filled': (values, units) => ({
    lead: 'The debris does not fill this berm.',
    rest: `It would hold ${volume(values['holdsCubicMeters'], units)} and gets ${volume(values['shareCubicMeters'], units)}. ${sizeWords(values, units)}`,
  }),
  'line-crosses-itself': () => ({
    lead: 'Move a corner, or draw two berms.',
    rest: 'Its line crosses itself, so what it holds is counted twice there.',
  }),
  'line-too-short': () => ({
    lead: 'Draw the berm from one end to the other.',
    rest: 'Its line has no length.',
  }),
  'size-not-said': () => ({
    lead: 'Say how wide and how high it is.',
    rest: 'Until then it holds nothing and nothing is pushed to it.',
  }),
  'heap-out-of-reach': () => ({
    lead: 'No debris comes to this pile.',
    rest: 'None lies within a push of it that has no nearer place: move it to the clearing, or tally the trees near it.',
  }),
  'heap-not-filled': (values, units) => ({
    lead: 'The debris does not fill this pile.',
    rest: `It would hold ${volume(values['holdsCubicMeters'], units)} and gets ${volume(values['comesCubicMeters'], units)}.`,
  }),
  'higher-than-pushed': (values, units) => ({
    lead: 'Make it lower, or stack it with an excavator.',
    rest: `It is ${length(values['heightMeters'], units)} high, and ${length(values['mostMeters'], units)} is set as the most that is pushed up.`,
  }),
  'sides-too-steep': (values, units) => ({
    lead: 'Give it a wider foot.',
    rest: `Debris lies no steeper than about 1 to 1: so high, it wants ${typeof values['widthMeters'] === 'number' ? tape(values['widthMeters'], units) : 'more'} across at least.`,
  }),
  'berm-out-of-reach': () => ({
    lead: 'No debris comes to this berm.',
    rest: 'None lies within a push of it that has no nearer place: move it to the clearing, or tally the trees near it.',
  }),
  'berm-all-gaps': () => ({
    lead: 'Close a gap, or draw the line longer.',
    rest: 'The gaps take up the whole berm.',
  }),
  'gap-off-line': () => ({
    lead: 'Set the gap on the berm.',
    rest: 'One of its gaps lies off its line.',
  }),
  'gaps-barred': () => ({
    lead: 'Allow a wider spacing, move the stand, or bend the line.',
    rest: 'For longer than the spacing every gap would look straight at a stand.',
  }),
  'gap-faces-seat': (values) => ({
    lead: 'Bend the berm or move the stand.',
    rest: `${count(values['count'], 'gap has', 'gaps have')} to be where a stand looks straight through.`,
  }),
  'gaps-wanted': (values) => ({
    lead: 'Look at the gaps that it should have.',
    rest: `${count(values['count'], 'of them is', 'of them are')} not drawn yet.`,
  }),
  'burn-too-near': (values, units) => ({
    lead: 'Do not burn it here as it is drawn.',
    rest: `It lies ${length(values['distanceMeters'], units)} from ${clearanceWords(values['from'])}; ${length(values['wantedMeters'], units)} is usual, and local rules may ask for more.`,
  }),
  'ask-before-burning': () => ({
    lead: 'Ask before any burning.',
    rest: 'The state forestry agency and the fire department say whether, when and how; snow cover, dry wood, a mineral strip round it and a machine on the spot are usual.',
  }),
  'burn-not-drawn': (values) => ({
    lead: 'Draw what is near that must not burn.',
    rest: `Nothing of this is drawn, so its distance is not known: ${typeof values['what'] === 'string' ? listed(values['what']) : 'buildings, lines and roads'}.`,
  }),
  'burn-layout': (values, units) => ({
    lead: 'Break the windrow up.',
    rest: `Its longest part is ${length(values['longestMeters'], units)}${typeof values['narrowestMeters'] === 'number' ? ` and its narrowest break ${length(values['narrowestMeters'], units)}` : ''}; a county fire service prints 200 ft and 26 ft.`,
  }),
  'machine-below-table': (values) => ({
    lead: 'Log your own acres a day.',
    rest: `The published table starts at ${power(values['watts'])}; for a weaker machine its hours are stretched by power.`,
  }),
  'machine-above-table': (values) => ({
    lead: 'Log your own acres a day.',
    rest: `The published table ends at ${power(values['watts'])}; a stronger machine is taken as that.`,
  }),
  'machine-between-rows': () => ({
    lead: 'The machine lies between two of the published table.',
    rest: 'Its hours are taken between theirs.',
  }),
  'all-trees-under-a-foot': () => ({
    lead: 'Log your own acres a day.',
    rest: 'The published table counts trees from a foot thick at the ground; all of these are thinner.',
  }),
  'trees-left-out': (values) => ({
    lead: 'Allow more hours for the thickest trees.',
    rest: `The published table has no figure for ${typeof values['stems'] === 'number' ? Math.ceil(values['stems']) : 'some'} of them with this machine.`,
  }),
  'pushes-uphill': (values, units) => ({
    lead: 'Move the debris down hill if you can.',
    rest: `${share(values['share'])} of it is pushed up hill, ${length(values['meanMeters'], units)} on average.`,
  }),
  'berm-shorter-than-ends': () => ({
    lead: 'Draw the line longer, or make a brush pile of it.',
    rest: 'It is shorter than its berm would be wide.',
  }),
};

function roomWords(values: Values, units: UnitSystem): string {
  const [longer, wider] = [values['longerMeters'], values['widerMeters']];
  const ways = [
    typeof longer === 'number' ? `${aboutLength(longer, units)} more of line` : '',
    typeof wider === 'number' ? `a base of ${tape(wider, units)}` : '',
  ].filter(Boolean);
  return ways.length > 0 ? `What would hold it: ${ways.join(', or ')}.` : '';
}

function sizeWords(values: Values, units: UnitSystem): string {
  const [long, high] = [values['lengthMeters'], values['heightMeters']];
  const ways = [
    typeof long === 'number' ? `${aboutLength(long, units)} long with this section` : '',
    typeof high === 'number' ? `${tape(high, units)} high on this line` : '',
  ].filter(Boolean);
  return ways.length > 0 ? `Right would be ${ways.join(', or ')}.` : '';
}

const clearances: Readonly<Record<string, string>> = {
  'neighbour-dwelling': 'a neighbor’s dwelling',
  'own-building': 'one of your buildings',
  'power-line': 'a power line',
  'standing-trees': 'standing trees',
  road: 'a road',
  'property-line': 'the property line',
};

export function clearanceWords(from: Value): string {
  return clearances[String(from)] ?? 'something near it';
}

function listed(names: string): string {
  return new Intl.ListFormat('en').format(names.split(', ').map(clearanceWords));
}

function power(watts: Value): string {
  return typeof watts === 'number' ? horsepower(watts) : 'a strong machine';
}

type Value = Values[string] | undefined;

function volume(value: Value, units: UnitSystem): string {
  return typeof value === 'number' ? spoken(debrisQuantity(value, units)) : 'some';
}

function length(value: Value, units: UnitSystem): string {
  return typeof value === 'number' ? spoken(lengthQuantity(value, units)) : 'reach';
}

function share(value: Value): string {
  return typeof value === 'number' ? spoken(shareQuantity(value)) : 'some';
}

function depth(value: Value, units: UnitSystem): string {
  if (typeof value !== 'number') return 'some';
  return units === 'metric'
    ? `${figure(value * 1000, 0)} mm`
    : `${figure(inchesFromMeters(value), 1)} in`;
}

function count(value: Value, one: string, many: string): string {
  return value === 1 ? `One ${one}` : `${typeof value === 'number' ? value : 'Some'} ${many}`;
}
