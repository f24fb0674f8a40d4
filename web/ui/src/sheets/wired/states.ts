import type { WiredSheet } from '../../desk.svelte';

/** What the values of the sheet are of: the worst of all lasting states, one state, or a short. */
export type Shown = { readonly of: 'worst' } | { readonly of: 'fault' } | { readonly of: 'state'; readonly at: number };

/** A choice of the selector. */
export interface Option {
  readonly name: string;
  readonly label: string;
}

/** The choices of the selector: each state that the program found stands between the worst and the short. */
export function options(sheet: WiredSheet): Option[] {
  return [{ name: '', label: 'worst of each run' }, ...sheet.states.map((s) => ({ name: s.name, label: s.name })), { name: '!', label: 'short circuit' }];
}

/** What a choice means on a sheet; a state that is no longer there falls back to the worst. */
export function shownOf(sheet: WiredSheet, name: string): Shown {
  if (name === '!') return { of: 'fault' };
  const at = sheet.states.findIndex((s) => s.name === name);
  return at < 0 ? { of: 'worst' } : { of: 'state', at };
}
