/**
 * The digest of a signed text: SHA-256 (FIPS 180-4) over its UTF-8 bytes, in a form that no editor changes by itself.
 * It shows that a text was changed, not who changed it: anybody can work it out anew.
 */
import { sha256 } from '@noble/hashes/sha2';

/** So many hexadecimal digits are written: 64 bits, which no two pages of a notebook share by chance. */
const WRITTEN = 16;
/** Fewer digits than these say too little. */
const LEAST = 8;
const ALL = 64;

/** Line feeds, no blanks at line ends, no byte-order mark, no empty lines at the end; letters composed (Unicode NFC). */
export const normalised = (text: string): string =>
  text
    .replace(/^\uFEFF/, '')
    .replace(/\r\n?/g, '\n')
    .replace(/[^\S\n]+$/gm, '')
    .replace(/\n+$/, '')
    .normalize('NFC');

/** All 64 hexadecimal digits. */
export function digestOf(text: string): string {
  const bytes = sha256(new TextEncoder().encode(normalised(text)));
  return Array.from(bytes, (byte) => byte.toString(16).padStart(2, '0')).join('');
}

/** As it is written on a page. */
export const shortDigest = (digest: string): string => digest.slice(0, WRITTEN);

/** Whether a text can be a digest: at least 8 hexadecimal digits. */
export const isDigest = (written: string): boolean =>
  written.length >= LEAST && written.length <= ALL && /^[0-9a-f]+$/i.test(written);

export const agrees = (written: string, digest: string): boolean => digest.startsWith(written.toLowerCase());
