// Generated from the folders by `npm run generate`.
import type { Rule } from './rule';

/** All rules; a family may rest on what those before it have doubted. */
export const RULES: readonly Rule[] = [];
