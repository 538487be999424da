// Waiting for what a person would wait for: a state on the screen, never a fixed time.
/** Calls `look` until `enough(value)`; says what it last saw when it gives up. */
export async function until(look, enough = Boolean, { timeout = 15000, every = 50, what = 'the expected state' } = {}) {
  const end = Date.now() + timeout;
  for (;;) {
    const seen = await look();
    if (enough(seen)) return seen;
    if (Date.now() > end) throw new Error(`Waited ${timeout} ms for ${what}; last seen: ${JSON.stringify(seen)}`);
    await new Promise((r) => setTimeout(r, every));
  }
}

/** Calls `look` until it gives the same answer for `still` ms (and, at first, a non-empty one for up to `patience`). */
export async function settled(look, { still = 400, patience = 4000, every = 80 } = {}) {
  const start = Date.now();
  let last,
    since = 0;
  for (;;) {
    const seen = await look();
    const text = JSON.stringify(seen);
    if (text !== last) {
      last = text;
      since = Date.now();
    }
    const calm = Date.now() - since >= still;
    if (calm && (seen.length > 0 || Date.now() - start >= patience)) return seen;
    await new Promise((r) => setTimeout(r, every));
  }
}
