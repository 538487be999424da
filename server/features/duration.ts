/** A stretch of time in the words of the bench: `40 min`, `7 h 40 min`, `1 d 2 h`. */
export function duration(seconds: number): string {
  const minutes = Math.floor(seconds / 60);
  const [d, h, m] = [Math.floor(minutes / 1440), Math.floor(minutes / 60) % 24, minutes % 60];
  if (d > 0) return h > 0 ? `${d} d ${h} h` : `${d} d`;
  if (h > 0) return m > 0 ? `${h} h ${m} min` : `${h} h`;
  return `${m} min`;
}
