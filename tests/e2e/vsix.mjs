import { existsSync, readFileSync } from 'node:fs';
import { join, resolve } from 'node:path';

export const ROOT = resolve(import.meta.dirname, '..', '..');

/** The packaged extension of this version. */
export function packaged() {
  const { name, version } = JSON.parse(readFileSync(join(ROOT, 'package.json'), 'utf8'));
  const file = join(ROOT, `${name}-${version}.vsix`);
  if (!existsSync(file)) throw new Error(`${file} is missing: run npm run package first.`);
  return file;
}
