/** Settings of the engine, the same for editor, `tarebook.json` and command line. Imports nothing of ours. */

export type SeverityName = 'off' | 'hint' | 'information' | 'warning' | 'error';

export interface Settings {
  /** Severity by rule code, over the rule's own. */
  readonly severity: Readonly<Record<string, SeverityName>>;
  /** Largest error of an accurate mass that is not reported, ppm. */
  readonly hrmsPpm: number;
}

export const DEFAULTS: Settings = { severity: {}, hrmsPpm: 5 };

/** The name of the project's settings. */
export const CONFIG_NAME = 'tarebook.json';

/** JSON of a text with comments and trailing commas. Blanks stand where comments stood, so that a syntax error keeps its place. */
export function withoutComments(text: string): string {
  const blank = (comment: string): string => comment.replace(/[^\n]/g, ' ');
  return text
    .replace(/^\uFEFF/, '')
    .replace(/"(?:[^"\\\n]|\\.)*"|\/\/[^\n]*|\/\*[\s\S]*?(?:\*\/|$)/g, (m) => (m.startsWith('"') ? m : blank(m)))
    .replace(/"(?:[^"\\\n]|\\.)*"|,(?=\s*[}\]])/g, (m) => (m.startsWith('"') ? m : ' '));
}
