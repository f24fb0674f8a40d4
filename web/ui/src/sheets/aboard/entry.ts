import type { Field, Row, Units } from '../../desk.svelte';

/** How well a value is known, as an ordinary choice beside it. Only the words around the value change. */
export type Knowing = 'stated' | 'about' | 'measured' | 'unknown';

const before = /^(?:(?:about|around|roughly|circa|ca\.?)\s+|~\s*)/i;
const after = /\s+measured$/i;

/** The value of an entry without the words for how well it is known. */
export function bare(text: string): string {
  return text.trim().replace(before, '').replace(after, '').trim();
}

export function knowing(text: string): Knowing {
  const t = text.trim();
  if (t.toLowerCase() === 'unknown') return 'unknown';
  if (before.test(t) || / to | \+- | ± /.test(t)) return 'about';
  return after.test(t) ? 'measured' : 'stated';
}

/** The entry with another way of knowing. What cannot be put in those words is handed back as it is. */
export function known(text: string, how: Knowing): string {
  if (how === 'unknown') return 'unknown';
  const value = bare(text);
  if (value === '' || value === 'unknown') return '';
  if (how === 'about') return / to | \+- | ± /.test(value) ? value : `about ${value}`;
  const middle = value.replace(/\s+(\+-|±).*$/, '');
  return how === 'measured' ? `${middle} measured` : middle;
}

/** Whether an entry can be an estimate, a reading or unknown. */
export function guessable(field: Field | undefined): boolean {
  return field !== undefined && ['value', 'draw', 'size', 'cylinders'].includes(field.form);
}

/** What stands in the entry at first, and what is sent for it: a list of names is typed without its brackets. */
export function opened(row: Pick<Row, 'raw'>, field: Field | undefined): string {
  return field?.form === 'names' ? row.raw.replace(/^\[|\]$/g, '') : row.raw;
}

const number = /^[-+−]?(?:\d[\d.,]*|\.\d+)(?:\/0)?(?: to \d[\d.,]*)?$/;
const sides = /^\d[\d.,]*\s*[x×]\s*\d[\d.,]*$/;
const unitBehind = /\d[\d.,]*\s*([A-Za-z°µΩ%$][A-Za-z0-9°µΩ²³]*(?:\/[A-Za-z°]+)*)/g;
const joins = new Set(['to', 'x', 'at', 'of']);

/** The unit of what stands there: of a value, of the ends of a range, of a value with its ends behind it. None where there are two. */
export function unitOf(stood: string): string {
  const value = stood.replace(/\s*\([^)]*\)/g, '').replace(/\s+at\s+.*$/, '');
  const units = [...value.matchAll(unitBehind)].map((m) => m[1] ?? '').filter((unit) => !joins.has(unit));
  return new Set(units).size === 1 ? (units[0] ?? '') : '';
}

const usualUnits: Readonly<Record<string, readonly [string, string]>> = {
  length: ['ft', 'm'], section: ['AWG', 'mm2'], temperature: ['F', 'C'], 'temperature difference': ['F', 'K'], mass: ['lb', 'kg'], volume: ['gal', 'L'], flow: ['gal/h', 'L/h'],
  'flow per day': ['gal/d', 'L/d'], 'heat loss': ['BTU/h/F', 'W/K'], speed: ['mph', 'm/s'], pressure: ['psi', 'kPa'], area: ['ft2', 'm2'],
};

/** The unit in which the owner thinks of a value of which nothing stands there yet; none where it can be of several kinds. */
export function usualUnit(field: Field | undefined, units: Units): string {
  const kind = field?.kinds?.length === 1 ? (field.kinds[0] ?? '') : '';
  const pair = usualUnits[kind];
  if (!pair) return kind === 'count' || kind === '' ? '' : (field?.units?.[0] ?? '');
  const small = kind === 'length' && /to (?:\d+ cm|[1-5] m)$/.test(field?.limits?.[0] ?? '');
  if (small) return units === 'us' ? 'in' : 'cm';
  return pair[units === 'us' ? 0 : 1];
}

/** An entry that is a bare number takes the unit that stood there, or that of what was shown. */
function united(text: string, unit: string): string {
  const value = bare(text);
  return unit && (number.test(value) || sides.test(value)) ? text.replace(value, `${value} ${unit}`) : text;
}

/** What is sent for an entry. A bare number takes the unit of what stood there, else the one it is usually told in. */
export function sent(text: string, field: Field | undefined, stood = '', usual = ''): string {
  const t = field?.lines ? text : united(text.trim(), guessable(field) ? unitOf(stood) || (/\d/.test(stood) ? '' : usual) : '');
  return field?.form === 'names' && t !== '' ? `[${t}]` : t;
}

/** The value of what is shown, without the ends behind it. */
export function plain(shown: string): string {
  return shown.replace(/\s*\([^)]*\)/g, '');
}

const byEnds = /\d\s*[A-Za-z°%µΩ/]*\s+to\s+[-−]?\d/;

/** A value as it stands in the file when it is said to be right: without the words and ends of an estimate; the middle that is shown, where it is told by its ends. */
export function settled(raw: string, shown: string): string {
  if (raw === '' || byEnds.test(plain(raw))) return plain(shown);
  return plain(raw)
    .replace(/(^|\s)(?:(?:about|around|roughly|circa|ca\.?)\s+|~\s*)/gi, '$1')
    .replace(/\s*(?:\+-|±)\s*[^\s]+(?:\s*[A-Za-z°%µΩ/]+)?/g, '')
    .trim();
}

/** What may be typed, in a few words. */
export function hint(field: Field | undefined): string {
  if (!field) return '';
  if (field.form === 'date') return `${field.doc.replace(/, such as .*$/, '')}: October 20, 20 Oct 2027 or 10/20/2027`;
  const parts: string[] = [field.doc];
  if (field.limits?.length) parts.push(field.limits.join(', or '));
  return parts.filter(Boolean).join('. ');
}
