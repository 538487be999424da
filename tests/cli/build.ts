/** The real bundles in a folder outside the project, and a way to run the command in a notebook of its own. */
import { execFileSync, spawnSync } from 'node:child_process';
import { chmodSync, mkdirSync, mkdtempSync, rmSync, writeFileSync } from 'node:fs';
import { tmpdir } from 'node:os';
import { dirname, join, resolve } from 'node:path';

export const root = resolve(import.meta.dirname, '../..');

export interface Run {
  readonly status: number | null;
  readonly stdout: string;
  readonly stderr: string;
}

export interface RunOptions {
  readonly cwd?: string;
  readonly input?: string | Buffer;
  readonly env?: Readonly<Record<string, string>>;
  /** As another user: root may read everything. */
  readonly uid?: number | undefined;
}

export class Tarebook {
  readonly home = mkdtempSync(join(tmpdir(), 'tarebook-cli-'));
  readonly cli = join(this.home, 'dist', 'cli.js');
  #notebooks = 0;

  build(): void {
    chmodSync(this.home, 0o755);
    execFileSync(process.execPath, ['esbuild.mjs', dirname(this.cli)], {
      cwd: root,
      stdio: ['ignore', 'ignore', 'pipe'],
    });
  }

  dispose(): void {
    rmSync(this.home, { recursive: true, force: true });
  }

  /** A new folder that is a notebook of its own (it holds an empty `tarebook.json`). */
  notebook(files: Readonly<Record<string, string | Buffer>>): string {
    const folder = join(this.home, `notebook-${++this.#notebooks}`);
    mkdirSync(folder);
    for (const [name, content] of Object.entries({ 'tarebook.json': '{}', ...files })) {
      mkdirSync(dirname(join(folder, name)), { recursive: true });
      writeFileSync(join(folder, name), content);
    }
    return folder;
  }

  run(args: readonly string[], { cwd = this.home, input = '', env = {}, uid }: RunOptions = {}): Run {
    const { PATH } = process.env;
    const { status, stdout, stderr } = spawnSync(process.execPath, [this.cli, ...args], {
      cwd,
      input,
      env: { PATH, ...env },
      ...(uid !== undefined && { uid }),
      encoding: 'utf8',
      maxBuffer: 1 << 28,
    });
    return { status, stdout, stderr };
  }
}

/**
 * 15.0 mL × 0.810 g/mL = 12.15 g; ÷ 88.15 g/mol = 137.8 mmol. 54.881 g − 41.207 g = 13.674 g; ÷ 130.187 g/mol =
 * 105.0 mmol, 76.2 %. Theory 137.8 mmol × 130.187 g/mol = 17.94 g. Atomic weights: CIAAW, abridged.
 */
export const ESTER = `experiment TB-014: Isopentyl acetate by Fischer esterification
date: 2026-03-04
author: MK
aim: about 15 g of ester for the solvent screen

substance isopentyl alcohol: C5H12O, density 0.810 g/mL at 20 °C
substance acetic acid: C2H4O2, density 1.049 g/mL
substance isopentyl acetate: C7H14O2
balance B-2: readability 0.001 g, repeatability 0.001 g
vessel F-12: 50 mL flask, tare 41.207 g

reaction R1: isopentyl alcohol + acetic acid -> isopentyl acetate + water

charge isopentyl alcohol: 15.0 mL (12.2 g, 138 mmol, 1.00 equiv), limiting
charge acetic acid: 20.0 mL

product isopentyl acetate: gross 54.881 g (net 13.674 g), in F-12, on B-2, distilled

signed: MK, 2026-03-04 17:20
`;

/** Two digits of the net are swapped, on line 17. */
export const WRONG_NET = ESTER.replace('(net 13.674 g)', '(net 13.764 g)').replace(/signed.*\n/, '');
