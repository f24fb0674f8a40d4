import type { Units } from './desk.svelte';

/** What the reader chose, kept by this browser for next time. A browser that keeps nothing is no fault. */
export interface Choices {
  units: Units;
  night: boolean;
}

const name = 'campwright';

export function recall(store: Pick<Storage, 'getItem'> | undefined): Choices {
  const choices: Choices = { units: 'us', night: false };
  try {
    const kept: unknown = JSON.parse(store?.getItem(name) ?? '{}');
    if (kept && typeof kept === 'object') {
      if ('units' in kept && kept.units === 'metric') choices.units = 'metric';
      if ('night' in kept && kept.night === true) choices.night = true;
    }
  } catch {
    // What stands there is not ours; the usual choices serve.
  }
  return choices;
}

export function keep(store: Pick<Storage, 'setItem'> | undefined, choices: Choices): void {
  try {
    store?.setItem(name, JSON.stringify(choices));
  } catch {
    // A private window keeps nothing.
  }
}
