/** Where the command line meets its process: streams, colour, the current folder, exit codes. */
import { writeFileSync } from 'node:fs';
import { resolve } from 'node:path';
import { printable } from './cells';
import { reasonOf } from './files';

/** 0 clean, 1 findings, 2 could not run. */
export type Exit = 0 | 1 | 2;

/** The command line itself is wrong. */
export class UsageError extends Error {}

export interface Terminal {
  readonly cwd: string;
  readonly color: boolean;
  /** A document or report, to a file if one is named, else to standard output. */
  write(text: string, file?: string): void;
  /** One line on standard error. */
  note(text: string): void;
}

export type ColorChoice = 'auto' | 'always' | 'never';

export function processTerminal(color: ColorChoice = 'auto'): Terminal {
  const cwd = process.cwd();
  return {
    cwd,
    color: useColor(color, process.env, process.stdout.isTTY),
    note: (text) => process.stderr.write(`tarebook: ${printable(text)}\n`),
    write: (text, file) => {
      if (file === undefined) process.stdout.write(text);
      else
        try {
          writeFileSync(resolve(cwd, file), text);
        } catch (error) {
          throw new UsageError(`cannot write ${file}: ${writeReason(error)}`);
        }
    },
  };
}

const writeReason = (error: unknown): string => {
  const code = (error as { code?: unknown }).code;
  if (code === 'EISDIR') return 'it is a folder';
  if (code === 'ENOENT') return 'no such folder';
  if (code === 'EACCES' || code === 'EPERM') return 'no permission to write it';
  return reasonOf(error);
};

/**
 * The option wins over the environment: `NO_COLOR` (no-color.org: present and not empty), then `FORCE_COLOR`; else
 * colour is for terminals that are not dumb.
 */
export function useColor(
  choice: ColorChoice,
  env: Readonly<Record<string, string | undefined>>,
  isTerminal: boolean | undefined,
): boolean {
  if (choice !== 'auto') return choice === 'always';
  if (env.NO_COLOR) return false;
  if (env.FORCE_COLOR) return env.FORCE_COLOR !== '0';
  return isTerminal === true && env.TERM !== 'dumb';
}
