import type { Row } from '../../desk.svelte';

// The handful of values by which a part is known, per kind of part. All others are details: what the owner has said of them is shown,
// what was filled in or taken for them waits until it is asked for.
const main: Readonly<Record<string, readonly string[]>> = {
  'modules/*': ['power', 'voc', 'isc', 'vmp', 'imp', 'size'],
  'controllers/*': ['kind', 'survives', 'output'],
  'arrays/*': ['module', 'controller', 'in series', 'strings', 'mounting', 'tilt'],
  'inverters/*': ['power', 'surge', 'idle', 'on'],
  bank: ['chemistry', 'blocks', 'block/voltage', 'block/capacity', 'health', 'bay', 'starts at'],
  vehicle: ['own load'],
  shore: ['inlet', 'limit'],
  home: ['place', 'lived in', 'hookup'],
  stores: ['propane', 'fresh water', 'grey', 'black', 'water per person'],
  aims: ['floor', 'dark nights', 'must never lose'],
  'vehicle/alternators/*': ['rated', 'hot idle'],
  'charge line/*': ['fuse', 'run/gauge', 'run/length', 'plug', 'dc-dc/output'],
  'shore/chargers/*': ['output', 'fed by'],
  'generators/*': ['power', 'burns', 'fuel'],
  'appliances/*': ['runs on', 'power', 'electric', 'blower', 'propane', 'per day', 'keeps'],
  'wiring/runs/*/devices/*': ['kind', 'family', 'rating'],
  'trip/*': ['place', 'from', 'nights', 'site', 'hookup', 'drive'],
};

/** The keys asked for in a new part of a pattern, where it is not picked; undefined where all that it needs are. */
export function mainKeys(pattern: string): readonly string[] | undefined {
  return main[pattern];
}

/** Whether a row stands among the main ones of its part. */
export function isMain(pattern: string, row: Pick<Row, 'pattern' | 'state'>): boolean {
  const keys = main[pattern];
  if (!keys || (row.state !== 'default' && row.state !== 'taken')) return true;
  return keys.includes(row.pattern.slice(pattern.length + 1));
}

const singular: Readonly<Record<string, string>> = {
  modules: 'a kind of module', controllers: 'a controller', arrays: 'an array', inverters: 'an inverter', generators: 'a generator',
  appliances: 'an appliance', trip: 'a stop', chargers: 'a charger', alternators: 'an alternator', 'charge line': 'a link', devices: 'a fuse, switch or plug',
};

/** One part of a list, in words. */
export function oneOf(list: string): string {
  return singular[list] ?? singular[list.slice(list.lastIndexOf('/') + 1)] ?? `to ${list}`;
}

const spelled: Readonly<Record<string, string>> = { voc: 'Voc', isc: 'Isc', vmp: 'Vmp', imp: 'Imp', noct: 'NOCT', ac: 'AC', dc: 'DC' };

/** The key of a value as it is written on labels: Voc, not voc. */
export function label(key: string): string {
  return key.replace(/\b(voc|isc|vmp|imp|noct)\b/g, (word) => spelled[word] ?? word);
}

/** A value as people write it: what feeds an appliance is AC or DC. */
export function shown(pattern: string, text: string): string {
  return pattern === 'appliances/*/runs on' ? (spelled[text] ?? text) : text;
}

/** A place of the file in words: "bank, block, capacity". */
export function place(path: string): string {
  return path.replaceAll('/', ', ');
}
