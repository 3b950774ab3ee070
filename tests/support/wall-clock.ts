/** What a clock on the wall shows, by the platform's Intl and its time-zone data: not by luxon, which the reader uses. */

/** Makes texts of a zone's wall clock to the millisecond, `2026-03-29T00:59:30.000`, of moments in milliseconds since 1970 UTC. */
export function wallClock(timeZone: string): (ms: number) => string {
  const format = new Intl.DateTimeFormat('en-CA', {
    timeZone, hourCycle: 'h23', year: 'numeric', month: '2-digit', day: '2-digit', hour: '2-digit', minute: '2-digit', second: '2-digit', fractionalSecondDigits: 3,
  });
  return (ms) => {
    const parts = Object.fromEntries(format.formatToParts(ms).map(({ type, value }) => [type, value]));
    return `${String(parts['year'])}-${String(parts['month'])}-${String(parts['day'])}T${String(parts['hour'])}:${String(parts['minute'])}:${String(parts['second'])}.${String(parts['fractionalSecond'])}`;
  };
}
