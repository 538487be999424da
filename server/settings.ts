/** Settings of the engine, the same for editor, `tarebook.json` and command line. Imports nothing of ours. */

export type SeverityName = 'off' | 'hint' | 'information' | 'warning' | 'error';

export interface Settings {
  /** Severity by rule code, over the rule's own. */
  readonly severity: Readonly<Record<string, SeverityName>>;
  /** Largest error of an accurate mass that is not reported, ppm. */
  readonly hrmsPpm: number;
}

export const DEFAULTS: Settings = { severity: {}, hrmsPpm: 5 };
