import type { Field, Row } from '../../desk.svelte';

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

const number = /^[-+−]?\d[\d.,]*$/;
const one = /^[-+−]?[\d./]+(?:,\d{3})*\s*([A-Za-z°%µΩ]+(?:\/[A-Za-z]+)?)$/;

/** The unit of what stands there: of a value, of both ends of a range, of a value with its ends behind it. None where there are two. */
export function unitOf(stood: string): string {
  const value = bare(stood.replace(/\s*\(.*\)\s*$/, ''));
  const ends = /^[-+−]?[\d.,]+\s*[^\s\d]*\s+to\s+(.*)$/.exec(value);
  return one.exec(ends?.[1] ?? value)?.[1] ?? '';
}

/** An entry that is a bare number takes the unit that stood there, or that of what was shown. */
function united(text: string, stood: string): string {
  const value = bare(text);
  const unit = unitOf(stood);
  return unit && number.test(value) ? text.replace(value, `${value} ${unit}`) : text;
}

export function sent(text: string, field: Field | undefined, stood = ''): string {
  const t = field?.lines ? text : united(text.trim(), guessable(field) ? stood : '');
  return field?.form === 'names' && t !== '' ? `[${t}]` : t;
}

/** The value of what is shown, without the ends behind it. */
export function plain(shown: string): string {
  return shown.replace(/\s*\(.*\)\s*$/, '');
}

/** What may be typed, in a few words. */
export function hint(field: Field | undefined): string {
  if (!field) return '';
  if (field.form === 'date') return `${field.doc.replace(/, such as .*$/, '')}: October 20, 20 Oct 2027 or 10/20/2027`;
  const parts: string[] = [field.doc];
  if (field.limits?.length) parts.push(field.limits.join(', or '));
  return parts.filter(Boolean).join('. ');
}
