/** The sheets, named by their question, in the order of the questions. A sheet that is not built yet has no key. */
export interface SheetName {
  readonly key: 'aboard' | 'last' | 'safe' | 'wired' | undefined;
  readonly question: string;
}

export const sheets: readonly SheetName[] = [
  { key: 'aboard', question: 'What is aboard?' },
  { key: 'last', question: 'Will it last?' },
  { key: 'safe', question: 'Is it safe?' },
  { key: 'wired', question: 'How is it wired?' },
  { key: undefined, question: 'Where does it go?' },
  { key: undefined, question: 'What next?' },
  { key: undefined, question: 'Does it work?' },
  { key: undefined, question: 'What goes in the binder?' },
];

/** The sheets, and the page where a rig is chosen. */
export type SheetKey = NonNullable<SheetName['key']> | 'start';

/** The sheet of an address, such as #last. */
export function sheetOf(hash: string): SheetKey {
  const key = hash.replace(/^#\/?/, '').split('/')[0];
  return key === 'start' || key === 'aboard' || key === 'safe' || key === 'wired' ? key : 'last';
}
