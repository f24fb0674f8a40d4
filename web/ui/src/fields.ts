import type { Field } from './desk.svelte';

/** The field of a place: its path with * for the names and numbers of members. */
export function fieldAt(fields: ReadonlyMap<string, Field>, path: string): Field | undefined {
  const segments = path.split('/');
  for (const [pattern, field] of fields) {
    const parts = pattern.split('/');
    if (parts.length === segments.length && parts.every((part, i) => part === '*' || part === segments[i])) return field;
  }
  return undefined;
}
