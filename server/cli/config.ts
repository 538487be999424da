/**
 * The project's settings: `tarebook.json`, JSON in which comments and trailing commas may stand. Its keys are those of
 * the editor's settings without `tarebook.`: `{"rules": {"severity": {"claim-rounding": "warning"}}}`.
 */
import type { Settings, SeverityName } from '../settings';
import { DEFAULTS, withoutComments } from '../settings';
import { didYouMean } from './suggest';

export const SEVERITIES: readonly SeverityName[] = ['off', 'hint', 'information', 'warning', 'error'];

export const isSeverity = (text: unknown): text is SeverityName => SEVERITIES.includes(text as SeverityName);

export interface Config {
  readonly settings: Settings;
  /** What is odd about it, one line each: such a key is passed over. */
  readonly warnings: readonly string[];
}

/** @throws SyntaxError when the text is no JSON, TypeError when a value has the wrong type; both say where. */
export function readConfig(text: string, codes: readonly string[]): Config {
  const root = asObject(JSON.parse(withoutComments(text)), 'the file');
  const warnings: string[] = [];
  const unknown = (key: string, where: string, known: readonly string[]): void => {
    warnings.push(`unknown ${where} "${key}"${didYouMean(key, known)}`);
  };
  let severity = DEFAULTS.severity;
  let hrmsPpm = DEFAULTS.hrmsPpm;
  for (const [key, value] of Object.entries(root)) {
    if (key === '$schema') continue;
    // Switches of the editor's view stand in the same file; they change nothing that is checked.
    if (key === 'hints') continue;
    if (key !== 'rules') {
      unknown(key, 'key', ['rules', 'hints', '$schema']);
      continue;
    }
    for (const [name, setting] of Object.entries(asObject(value, '"rules"'))) {
      if (name === 'severity') severity = readSeverities(asObject(setting, '"rules.severity"'), codes, unknown);
      else if (name === 'hrmsPpm') hrmsPpm = asPositive(setting, '"rules.hrmsPpm"');
      else unknown(name, 'key of "rules"', ['severity', 'hrmsPpm']);
    }
  }
  return { settings: { severity, hrmsPpm }, warnings };
}

function readSeverities(
  object: Readonly<Record<string, unknown>>,
  codes: readonly string[],
  unknown: (key: string, where: string, known: readonly string[]) => void,
): Readonly<Record<string, SeverityName>> {
  const out: Record<string, SeverityName> = {};
  for (const [code, value] of Object.entries(object)) {
    if (!codes.includes(code)) unknown(code, 'rule', codes);
    else if (!isSeverity(value))
      throw new TypeError(`the severity of "${code}" must be one of ${SEVERITIES.join(', ')}`);
    else out[code] = value;
  }
  return out;
}

function asObject(value: unknown, what: string): Readonly<Record<string, unknown>> {
  if (typeof value === 'object' && value !== null && !Array.isArray(value)) return value as Record<string, unknown>;
  throw new TypeError(`${what} must be an object`);
}

function asPositive(value: unknown, what: string): number {
  if (typeof value === 'number' && value > 0) return value;
  throw new TypeError(`${what} must be a number above 0`);
}
