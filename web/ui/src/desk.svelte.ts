import type { components } from './api';

type Schemas = components['schemas'];
export type RigView = Schemas['RigView'];
export type Section = Schemas['Section'];
export type Part = Schemas['Part'];
export type PartList = Schemas['PartList'];
export type Row = Schemas['Row'];
export type Field = Schemas['Field'];
export type PartAsk = Omit<Schemas['PartAsk'], 'revision'>;
export type HistoryView = Schemas['HistoryView'];
export type CompareView = Schemas['CompareView'];
export type RigsView = Schemas['RigsView'];
export type TryView = Schemas['TryView'];
export type UsersView = Schemas['UsersView'];
export type KindRow = Schemas['KindRow'];
export type TripSheet = Schemas['TripSheet'];
export type Curve = Schemas['Curve'];
export type AdviceView = Schemas['AdviceView'];
export type HomeView = Schemas['HomeView'];
export type WeatherView = Schemas['WeatherView'];
export type SafeSheet = Schemas['SafeSheet'];
export type Finding = Schemas['Finding'];
export type SafeCase = Schemas['SafeCase'];
export type EndsRow = Schemas['EndsRow'];
export type CuresView = Schemas['CuresView'];
export type CureView = Schemas['CureView'];
export type FileEdit = Schemas['FileEdit'];
export type WiredSheet = Schemas['WiredSheet'];
export type WiredRun = Schemas['WiredRun'];
export type WiredAt = Schemas['WiredAt'];
export type WiredDevice = Schemas['WiredDevice'];
export type WiredValue = Schemas['WiredValue'];
export type WiredChoice = Schemas['WiredChoice'];
export type LiveView = Schemas['LiveView'];
export type Both = Schemas['Both'];
export type GapView = Schemas['GapView'];
export type Units = 'us' | 'metric';

export type Fetch = (path: string, init?: RequestInit) => Promise<Response>;

/** A server that answered, but with a refusal; its text is for people. */
export class Refusal extends Error {
  readonly status: number;

  constructor(text: string, status: number) {
    super(text);
    this.status = status;
  }
}

async function ask<T>(fetch: Fetch, path: string, body?: unknown): Promise<T> {
  const headers: Record<string, string> = { Accept: 'application/json' };
  const init: RequestInit = { headers };
  if (body !== undefined) {
    headers['Content-Type'] = 'application/json';
    init.method = 'POST';
    init.body = JSON.stringify(body);
  }
  const response = await fetch(path, init);
  const answer: unknown = await response.json();
  if (!response.ok) {
    const detail = answer && typeof answer === 'object' && 'detail' in answer ? String(answer.detail) : '';
    throw new Refusal(detail || `the program answered with status ${response.status}`, response.status);
  }
  return answer as T;
}

/** What one question has brought: the last answer stays when a later one fails. */
export class Answer<T> {
  value = $state.raw<T | undefined>();
  asking = $state(false);
  refusal = $state('');
}

/** All that the sheets share: the rig, the answers, the choices of the reader, and whether the program still answers. */
export class Desk {
  rig = new Answer<RigView>();
  trip = new Answer<TripSheet>();
  advice = new Answer<AdviceView>();
  home = new Answer<HomeView>();
  safe = new Answer<SafeSheet>();
  wired = new Answer<WiredSheet>();
  weathers = new Answer<WeatherView>();
  fields = $state.raw<ReadonlyMap<string, Field>>(new Map());
  units = $state<Units>('us');
  night = $state(false);
  weather = $state('');
  /** What was changed last, and what has become of the stores since; shown on every sheet. */
  change = $state.raw<{ words: string; difference: string; since: string } | undefined>();
  /** Why a change was not made, where it was not asked for beside the value. */
  conflict = $state('');
  /** Path of the part that was added last, until it has been shown. */
  added = $state('');
  /** Clock time of the last word from the program, once it has fallen silent. */
  silentSince = $state('');
  #heard = new Date();
  #fetch: Fetch;
  #round = 0;
  #turn: Promise<unknown> = Promise.resolve();

  constructor(fetch: Fetch) {
    this.#fetch = fetch;
  }

  async load(): Promise<void> {
    await this.#into(this.rig, '/api/rig');
    if (this.silentSince) return;
    if (this.fields.size === 0) {
      const found = await this.ask<{ fields: Field[] }>('/api/fields');
      if (found) this.fields = new Map(found.fields.map((f) => [f.path, f]));
    }
    await this.answer();
    if (!this.weathers.value) await this.#into(this.weathers, '/api/weather');
  }

  /** Looks whether the rig has changed elsewhere, and follows. */
  async look(): Promise<void> {
    const pulse = await this.ask<{ revision: string }>('/api/pulse');
    if (pulse && pulse.revision !== this.rig.value?.revision) {
      this.change = undefined;
      await this.load();
    }
  }

  async answer(since = ''): Promise<void> {
    this.advice.value = undefined;
    this.home.value = undefined;
    await this.#into(this.trip, `/api/trip?weather=${encodeURIComponent(this.weather)}${since ? `&since=${since}` : ''}`);
  }

  /** What could be done about the answer; it is tried out only when asked for. */
  async advise(): Promise<void> {
    await this.#into(this.advice, '/api/trip/advice');
  }

  /** The rig at home, month by month; asked for only when wanted. */
  async atHome(): Promise<void> {
    await this.#into(this.home, '/api/home');
  }

  /** Judges the rig by every rule. */
  async check(): Promise<void> {
    await this.#into(this.safe, `/api/safe?since=${this.change?.since ?? ''}`);
  }

  /** Tries out what would cure a finding. */
  async cures(answer: Answer<CuresView>, of: Finding): Promise<void> {
    await this.#into(answer, `/api/safe/cures?${new URLSearchParams({ rule: of.rule, place: of.place, title: of.key })}`);
  }

  /** Solves the wiring in every state. */
  async wire(): Promise<void> {
    await this.#into(this.wired, `/api/wired?since=${this.change?.since ?? ''}`);
  }

  /** What opening a device does. */
  async live(answer: Answer<LiveView>, device: string): Promise<void> {
    await this.#into(answer, `/api/wired/live?device=${encodeURIComponent(device)}`);
  }

  /** A closer look at the bank between two days of the stay; undefined when it cannot be had. */
  async closer(from: number, days: number): Promise<Curve | undefined> {
    const round = ++this.#round;
    const curve = await this.ask<Curve>(`/api/trip/trace?weather=${encodeURIComponent(this.weather)}&from=${from}&days=${days}`);
    return round === this.#round ? curve : undefined;
  }

  /** What a text would mean at a place of the rig, or of a proposed run that is not in it yet. */
  try(path: string, text: string, run = ''): Promise<TryView | undefined> {
    return this.ask<TryView>(`/api/try?${new URLSearchParams({ path, text, ...(run ? { run } : {}) })}`);
  }

  /** Accepts a proposed run with one of its values changed, or as it is. The answer is why not, in words, or nothing. */
  async accept(run: { path: string; words: string }, change?: { path: string; text: string }): Promise<string> {
    const found = await this.ask<{ edits: { path: string; old: string; new: string }[] }>(`/api/wired/accept?${new URLSearchParams({ run: run.path, ...change })}`);
    return found ? this.edits(found.edits, run.words) : 'It cannot be accepted as it stands any more; the sheet will follow the file.';
  }

  /** Puts a text at a place, in place of what stands there. The answer is why not, in words, or nothing. */
  edit(path: string, old: string, text: string): Promise<string> {
    return this.edits([{ path, old, new: text }]);
  }

  /** Makes several edits at once. The words tell the change to people, where the edits themselves would tell it badly. */
  edits(edits: readonly { path: string; old: string; new: string }[], words?: string): Promise<string> {
    return this.#change('/api/edit', words ? { edits, note: words } : { edits }, words);
  }

  part(body: PartAsk): Promise<string> {
    return this.#change('/api/part', body);
  }

  /** What can be picked to be added to a list. */
  async kinds(list: string): Promise<readonly KindRow[]> {
    return (await this.ask<{ kinds: KindRow[] }>(`/api/kinds?list=${encodeURIComponent(list)}`))?.kinds ?? [];
  }

  text(text: string): Promise<string> {
    return this.#change('/api/text', { text });
  }

  /** Turns to another rig. The answer is why not, or nothing. */
  async turn(path: string, body: object): Promise<string> {
    try {
      this.rig.value = await ask<RigView>(this.#fetch, path, body);
      this.#hear();
      this.change = undefined;
      this.conflict = '';
      this.trip.value = undefined;
      void this.answer();
      return '';
    } catch (error) {
      this.#miss(error);
      return error instanceof Refusal ? error.message : 'The program does not answer.';
    }
  }

  keep(name: string, note: string): Promise<string> {
    return this.#change('/api/keep', note ? { name, note } : { name });
  }

  async restore(revision: string, name: string): Promise<void> {
    this.conflict = await this.#change('/api/restore', { to: revision }, `back to ${name}`);
  }

  async undo(): Promise<void> {
    const what = this.rig.value?.undo;
    if (what) this.conflict = await this.#change('/api/undo', {}, `taken back: ${what}`);
  }

  async redo(): Promise<void> {
    const what = this.rig.value?.redo;
    if (what) this.conflict = await this.#change('/api/redo', {}, `made again: ${what}`);
  }

  /** Picks the text in the reader's units. */
  say(text: Both): string {
    return text[this.units];
  }

  /** A text of the trade in the words of the reader's side of the ocean. */
  tell(text: string): string {
    return this.units === 'us' ? text.replaceAll('spanner', 'wrench') : text;
  }

  /** Asks one question; nothing when the program is silent. A refusal is nothing too, unless it is wanted. */
  async ask<T>(path: string, body?: unknown): Promise<T | undefined> {
    try {
      const answer = await ask<T>(this.#fetch, path, body);
      this.#hear();
      return answer;
    } catch (error) {
      this.#miss(error);
      return undefined;
    }
  }

  /** One change after the other: each is made for the revision that the one before it left. */
  #change(path: string, body: object, words?: string): Promise<string> {
    const turn = this.#turn.then(() => this.#changeNow(path, body, words));
    this.#turn = turn.catch(() => undefined);
    return turn;
  }

  async #changeNow(path: string, body: object, words?: string): Promise<string> {
    const before = this.rig.value?.revision ?? '';
    try {
      const rig = await ask<RigView>(this.#fetch, path, path === '/api/keep' ? body : { ...body, revision: before });
      this.#hear();
      this.conflict = '';
      this.rig.value = rig;
      this.added = rig.added;
      if (rig.revision === before) return '';
      this.change = { words: words ?? rig.undo, difference: '', since: before };
      await this.answer(before);
      this.change = { words: words ?? rig.undo, difference: this.#difference(), since: before };
      return '';
    } catch (error) {
      this.#miss(error);
      if (!(error instanceof Refusal)) return 'The program does not answer; nothing was changed.';
      if (error.status === 409) await this.load();
      return error.status === 409 ? `The rig was changed elsewhere meanwhile, and is shown as it stands now. ${error.message}` : error.message;
    }
  }

  /** What has become of the answer: an old one that is still held says nothing of a rig that has none. */
  #difference(): string {
    const trip = this.trip;
    if (trip.refusal) return `no answer now: ${trip.refusal}`;
    return trip.value?.difference ?? '';
  }

  async #into<T>(answer: Answer<T>, path: string): Promise<void> {
    answer.asking = true;
    try {
      answer.value = await ask<T>(this.#fetch, path);
      answer.refusal = '';
      this.#hear();
    } catch (error) {
      if (error instanceof Refusal) answer.refusal = error.message;
      this.#miss(error);
    } finally {
      answer.asking = false;
    }
  }

  #hear(): void {
    this.#heard = new Date();
    this.silentSince = '';
  }

  #miss(error: unknown): void {
    if (error instanceof Refusal) this.#hear();
    else this.silentSince ||= this.#heard.toTimeString().slice(0, 5);
  }
}
