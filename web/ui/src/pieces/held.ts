/** Keeps a number with its unit and a weekday with its date when lines break. */
export function held(text: string): string {
  return text.replace(/(\d) (?=\S)/g, '$1\u00a0').replace(/\b(Mon|Tue|Wed|Thu|Fri|Sat|Sun) (?=\d)/g, '$1\u00a0');
}
