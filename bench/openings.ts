import { crackOpening, type GreyPicture, type Point } from '../lib/photo/index.ts';
import { sampleGrey, sampleTruths } from '../tests/support/samples.ts';

/**
 * Opening of every crack of the rendered pictures against its truth, one line of JSON each. `nominalPx` is the opening
 * that was asked of the renderer; it varies on the way (lognormal, 28 %) and closes to the tips over 22 % of the length
 * at each end. `maskPx` is the median width of the mask along the same piece; the mask is never narrower than 3 px.
 * What is measured is the dark line. The rendered mouths have rusty, sunken flanks, so it is wider than the opening.
 */
const CRACK = 1;

/** Median over places 2 px apart of how much of the line across the trace lies on the mask. */
function maskWidth(mask: GreyPicture, trace: readonly Point[]): number {
  const widths: number[] = [];
  for (const [i, [x, y]] of trace.slice(1).entries()) {
    const [px, py] = trace[i] ?? [x, y];
    const length = Math.hypot(x - px, y - py);
    for (let way = 0; way < length; way += 2) {
      let width = 0;
      for (let off = -25; off <= 25; off += 0.25) {
        const column = Math.round(px + (way * (x - px) - off * (y - py)) / length);
        const row = Math.round(py + (way * (y - py) + off * (x - px)) / length);
        if (mask.values[row * mask.widthPx + column] === CRACK) width += 0.25;
      }
      widths.push(width);
    }
  }
  return widths.sort((a, b) => a - b)[Math.floor(widths.length / 2)] ?? Number.NaN;
}

function lengthOf(trace: readonly Point[]): number {
  return trace
    .slice(1)
    .reduce((sum, [x, y], i) => sum + Math.hypot(x - (trace[i]?.[0] ?? x), y - (trace[i]?.[1] ?? y)), 0);
}

/** The middle of a trace, where the opening does not yet close. */
function withoutTips(trace: readonly Point[]): readonly Point[] {
  const whole = lengthOf(trace);
  let way = 0;
  return trace.filter((point, i) => {
    const before = trace[i - 1] ?? point;
    way += Math.hypot(point[0] - before[0], point[1] - before[1]);
    return way >= 0.2 * whole && way <= 0.8 * whole;
  });
}

const rounded = (value: number) => Number(value.toFixed(2));
const wider: number[] = [];
const tally = { widths: 0, within: 0, bounds: 0, boundsHold: 0, refused: 0 };

for (const truth of sampleTruths()) {
  const cracks = truth.defects.filter(({ kind }) => kind === 'crack');
  if (cracks.length === 0 || truth.mask === null) continue;
  const picture = await sampleGrey(truth.file);
  const mask = await sampleGrey(truth.mask);
  for (const { branches = [], widthMm = 0 } of cracks) {
    const [main] = branches;
    if (main === undefined) continue;
    const nominal = widthMm / (main.mm / lengthOf(main.px));
    const maskPx = maskWidth(mask, withoutTips(main.px));
    const found = crackOpening(picture, withoutTips(main.px), { everyPx: 4 });
    const line = {
      figure: 'opening',
      picture: truth.file,
      nominalPx: rounded(nominal),
      maskPx: rounded(maskPx),
    };
    if (!found.ok) {
      tally.refused += 1;
      console.log(JSON.stringify({ ...line, refused: found.error.code, of: found.error.value }));
    } else if (found.value.known === 'upper bound') {
      const { atMostPx, profiles } = found.value;
      tally.bounds += 1;
      if (nominal <= atMostPx) tally.boundsHold += 1;
      console.log(JSON.stringify({ ...line, atMostPx: rounded(atMostPx), profiles }));
    } else {
      const { medianPx, largestPx, uPx, blurPx, profiles, unresolved } = found.value;
      tally.widths += 1;
      wider.push(((medianPx - nominal) * widthMm) / nominal);
      if (Math.abs(medianPx - nominal) <= 2 * uPx) tally.within += 1;
      const told = { medianPx, largestPx, uPx, blurPx };
      const figures = Object.fromEntries(Object.entries(told).map(([name, value]) => [name, rounded(value)]));
      console.log(JSON.stringify({ ...line, ...figures, profiles, unresolved }));
    }
  }
}
const byRank = wider.sort((a, b) => a - b);
const widerMm = [0.1, 0.5, 0.9].map((share) =>
  rounded(byRank[Math.floor(share * byRank.length)] ?? Number.NaN),
);
console.log(JSON.stringify({ figure: 'openings against the nominal width', ...tally, widerMm }));
