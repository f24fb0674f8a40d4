import type { components } from './api';

export type RigView = components['schemas']['RigView'];
export type TripSheet = components['schemas']['TripSheet'];
export type Curve = components['schemas']['Curve'];
export type AdviceView = components['schemas']['AdviceView'];
export type WeatherView = components['schemas']['WeatherView'];
export type SafeSheet = components['schemas']['SafeSheet'];
export type Finding = components['schemas']['Finding'];
export type SafeCase = components['schemas']['SafeCase'];
export type EndsRow = components['schemas']['EndsRow'];
export type CuresView = components['schemas']['CuresView'];
export type FileEdit = components['schemas']['FileEdit'];
export type Both = components['schemas']['Both'];
export type Units = 'us' | 'metric';

type Fetch = (path: string, init?: RequestInit) => Promise<Response>;

/** A server that answered, but with a refusal; its text is for people. */
export class Refusal extends Error {}

async function ask<T>(fetch: Fetch, path: string, init?: RequestInit): Promise<T> {
  const response = await fetch(path, { ...init, headers: { Accept: 'application/json' } });
  const body: unknown = await response.json();
  if (!response.ok) {
    const detail = body && typeof body === 'object' && 'detail' in body ? String(body.detail) : '';
    throw new Refusal(detail || `the program answered with status ${response.status}`);
  }
  return body as T;
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
  weathers = new Answer<WeatherView>();
  safe = new Answer<SafeSheet>();
  units = $state<Units>('us');
  night = $state(false);
  weather = $state('');
  /** Clock time of the last word from the program, once it has fallen silent. */
  silentSince = $state('');
  #heard = new Date();
  #fetch: Fetch;
  #round = 0;

  constructor(fetch: Fetch) {
    this.#fetch = fetch;
  }

  async load(): Promise<void> {
    const before = this.rig.value?.revision;
    await this.#into(this.rig, '/api/rig');
    if (this.silentSince) return;
    if (!this.trip.value || this.rig.value?.revision !== before) await this.answer();
    if (!this.weathers.value) await this.#into(this.weathers, '/api/weather');
  }

  async answer(): Promise<void> {
    this.advice.value = undefined;
    await this.#into(this.trip, `/api/trip?weather=${encodeURIComponent(this.weather)}`);
  }

  /** What could be done about the answer; it is tried out only when asked for. */
  async advise(): Promise<void> {
    await this.#into(this.advice, '/api/trip/advice');
  }

  /** Judges the rig by every rule. */
  async check(): Promise<void> {
    await this.#into(this.safe, '/api/safe');
  }

  /** Tries out what would cure a finding. */
  async cures(answer: Answer<CuresView>, of: Finding): Promise<void> {
    await this.#into(answer, `/api/safe/cures?${new URLSearchParams({ rule: of.rule, place: of.place, title: of.key })}`);
  }

  /** A closer look at the bank between two days of the stay; undefined when it cannot be had. */
  async closer(from: number, days: number): Promise<Curve | undefined> {
    const round = ++this.#round;
    try {
      const curve = await ask<Curve>(this.#fetch, `/api/trip/trace?weather=${encodeURIComponent(this.weather)}&from=${from}&days=${days}`);
      this.#hear();
      return round === this.#round ? curve : undefined;
    } catch (error) {
      this.#miss(error);
      return undefined;
    }
  }

  /** Picks the text in the reader's units. */
  say(text: Both): string {
    return text[this.units];
  }

  async #into<T>(answer: Answer<T>, path: string): Promise<void> {
    answer.asking = true;
    try {
      answer.value = await ask<T>(this.#fetch, path);
      answer.refusal = '';
      this.#hear();
    } catch (error) {
      if (error instanceof Refusal) {
        answer.refusal = error.message;
        this.#hear();
      } else {
        this.#miss(error);
      }
    } finally {
      answer.asking = false;
    }
  }

  #hear(): void {
    this.#heard = new Date();
    this.silentSince = '';
  }

  #miss(error: unknown): void {
    if (error instanceof Refusal) return;
    this.silentSince ||= this.#heard.toTimeString().slice(0, 5);
  }
}
