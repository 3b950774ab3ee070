/**
 * Colours of a picture: the eight-colour set of Okabe and Ito ("Color Universal Design", 2008), made to be told apart
 * with any kind of colour vision. Colour only repeats what the lane says already, so a grey print loses nothing.
 */

/** The set without black (which black itself takes), in an order that keeps neighbours apart in lightness too. */
export const PALETTE = ['#0072B2', '#E69F00', '#009E73', '#CC79A7', '#56B4E9', '#D55E00', '#F0E442'] as const;

export const INK = '#111111';
export const PAPER = '#ffffff';
/** Text that stands back: 7.0:1 on PAPER. */
export const SOFT = '#595959';
export const RULE = '#c9c9c9';
export const BLACK_FILL = '#111111';

/** The colour of the n-th source (from 0); colours repeat after seven. */
export const colorOf = (index: number): string => PALETTE[index % PALETTE.length] ?? INK;

/** Relative luminance of `#rrggbb`, 0 to 1 (W3C WCAG 2.2, "relative luminance"). */
export function luminance(color: string): number {
  const channel = (at: number): number => {
    const value = Number.parseInt(color.slice(at, at + 2), 16) / 255;
    return value <= 0.04045 ? value / 12.92 : ((value + 0.055) / 1.055) ** 2.4;
  };
  return 0.2126 * channel(1) + 0.7152 * channel(3) + 0.0722 * channel(5);
}

/** Contrast of two colours, 1 to 21 (W3C WCAG 2.2, "contrast ratio"). */
export function contrast(one: string, other: string): number {
  const [light, dark] = [luminance(one), luminance(other)].sort((a, b) => b - a) as [number, number];
  return (light + 0.05) / (dark + 0.05);
}

/** Ink or paper, whichever reads better on a fill: at least 4.5:1 on every colour of the palette. */
export const inkOn = (fill: string): string => (contrast(fill, INK) >= contrast(fill, PAPER) ? INK : PAPER);
