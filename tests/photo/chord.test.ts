import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import type { Problem, Result } from '../../lib/base/index.ts';
import {
  arcOfChord,
  chordOfArc,
  foreshorteningShare,
  normalising,
  radiusOfSagitta,
  sagittaOfChord,
  scaleErrorOfShift,
  uOfPickedLength,
} from '../../lib/photo/index.ts';
import { photoCaseOf } from '../support/photoCases.ts';

function taken<T>(result: Result<T, Problem>): T {
  if (!result.ok) throw new Error(result.error.message);
  return result.value;
}

describe('chords and arcs', () => {
  test('published case E-07: chord of 200 on a radius of 600', () => {
    const { inputs, expected, recomputed } = photoCaseOf('E-07');
    const arc = taken(arcOfChord(inputs.chord, inputs.radius));
    expect(arc).toBeCloseTo(recomputed.arc, 9);
    expect(arc - inputs.chord).toBeCloseTo(expected.excess, 9);
    expect(taken(sagittaOfChord(inputs.chord, inputs.radius))).toBeCloseTo(recomputed.sagitta, 9);
    expect(inputs.chord ** 3 / (24 * inputs.radius ** 2)).toBeCloseTo(recomputed.first_order_excess, 12);
  });

  test('published case E-08: the one-degree curve by arc and by chord', () => {
    const { inputs, expected, recomputed } = photoCaseOf('E-08');
    const angle = (inputs.angle_deg * Math.PI) / 180;
    const rise = (radius: number) => radius * (1 - Math.cos(angle / 2));
    // By chord: the chord of 100 and the rise of a one-degree curve over it give the radius back.
    const byChord = taken(radiusOfSagitta(inputs.chord_or_arc, rise(recomputed.R_chord)));
    expect(Math.abs(byChord - expected.R_chord)).toBeLessThan(0.005);
    const arc = taken(arcOfChord(inputs.chord_or_arc, byChord));
    expect(arc).toBeCloseTo(recomputed.arc_on_chord_curve, 6);
    expect(arc / byChord).toBeCloseTo(angle, 10);
    // By arc: the chord under an arc of 100, and its rise.
    const chord = taken(chordOfArc(inputs.chord_or_arc, recomputed.R_arc));
    expect(chord).toBeLessThan(inputs.chord_or_arc);
    const byArc = taken(radiusOfSagitta(chord, rise(recomputed.R_arc)));
    expect(Math.abs(byArc - expected.R_arc)).toBeLessThan(0.005);
  });

  test('published case E-09: radius from chord and sagitta', () => {
    const { inputs, expected } = photoCaseOf('E-09');
    expect(taken(radiusOfSagitta(inputs.chord, inputs.sagitta))).toBeCloseTo(expected.radius, 6);
  });

  test('arc and chord undo each other, and an arc is never shorter than its chord', () => {
    fc.assert(
      fc.property(
        fc.double({ min: 1, max: 2000, noNaN: true }),
        fc.double({ min: 1e-4, max: 0.999, noNaN: true }),
        (radius, share) => {
          const chord = 2 * radius * share;
          const arc = taken(arcOfChord(chord, radius));
          expect(arc).toBeGreaterThanOrEqual(chord * (1 - 1e-15));
          expect(taken(chordOfArc(arc, radius)) / chord).toBeCloseTo(1, 9);
          expect(taken(radiusOfSagitta(chord, taken(sagittaOfChord(chord, radius)))) / radius).toBeCloseTo(
            1,
            6,
          );
        },
      ),
    );
  });

  test('a chord as long as the diameter is half the circle; a longer one is refused with both lengths', () => {
    expect(taken(arcOfChord(200, 100))).toBeCloseTo(Math.PI * 100, 9);
    const refused = arcOfChord(200.001, 100);
    expect(refused).toMatchObject({ ok: false, error: { field: 'chordMm', value: '200.001' } });
    expect(!refused.ok && refused.error.message).toContain('200 mm');
    expect(chordOfArc(Math.PI * 100 + 0.001, 100)).toMatchObject({ ok: false, error: { field: 'arcMm' } });
  });

  test.each([
    [arcOfChord(0, 100), 'chordMm'],
    [arcOfChord(10, -1), 'radiusMm'],
    [chordOfArc(Number.NaN, 100), 'arcMm'],
    [sagittaOfChord(300, 100), 'chordMm'],
    [radiusOfSagitta(10, 0), 'sagittaMm'],
    [scaleErrorOfShift(1, 0), 'distanceMm'],
    [scaleErrorOfShift(Number.NaN, 1), 'shiftMm'],
    [foreshorteningShare(90.1), 'obliquityDegrees'],
    [foreshorteningShare(-0.1), 'obliquityDegrees'],
    [uOfPickedLength({ lengthPx: 1, mmPerPx: 1, pickUPx: -1, scaleShareU: 0 }), 'pickUPx'],
    [uOfPickedLength({ lengthPx: 1, mmPerPx: 1, pickUPx: 0, scaleShareU: Number.NaN }), 'scaleShareU'],
    [uOfPickedLength({ lengthPx: 0, mmPerPx: 1, pickUPx: 0, scaleShareU: 0 }), 'lengthPx'],
  ])('a wrong length is refused by name: %#', (result, field) => {
    expect(result).toMatchObject({ ok: false, error: { field } });
  });
});

describe('first-order errors of a length', () => {
  test('published case E-10: 1250 millionths for each mm out of the plane are a distance of 800 mm', () => {
    const { inputs, expected } = photoCaseOf('E-10');
    expected.Z_mm.forEach((distance: number, i: number) => {
      expect(taken(scaleErrorOfShift(1, distance))).toBeCloseTo(inputs.relative_error_per_mm[i], 12);
    });
    expect(taken(scaleErrorOfShift(10, 500))).toBeCloseTo(0.02, 12);
  });

  test('published case E-11: foreshortening at 5 to 30 degrees', () => {
    const { inputs, recomputed } = photoCaseOf('E-11');
    inputs.angle_deg.forEach((angle: number, i: number) => {
      expect(taken(foreshorteningShare(angle))).toBeCloseTo(recomputed.relative_error[i], 12);
    });
  });

  test('published case E-16: two clicks and the scale', () => {
    const { inputs, recomputed } = photoCaseOf('E-16');
    const found = taken(
      uOfPickedLength({
        lengthPx: inputs.length_px,
        mmPerPx: inputs.pixel_mm,
        pickUPx: inputs.click_half_width_px / Math.sqrt(3),
        scaleShareU: inputs.rel_u_scale,
      }),
    );
    expect(found.pickUMm).toBeCloseTo(recomputed.u_click_mm, 12);
    expect(found.scaleUMm).toBeCloseTo(recomputed.u_scale_mm, 12);
    expect(found.uMm).toBeCloseTo(recomputed.u_mm, 12);
    expect(2 * found.uMm).toBeCloseTo(recomputed.U_mm, 12);
  });

  test('published case E-04: points are normalised to their middle and a mean distance of √2', () => {
    const { inputs, recomputed } = photoCaseOf('E-04');
    const matrix = normalising(inputs.points);
    expect(matrix.get(0, 0)).toBeCloseTo(recomputed.scale, 12);
    expect(matrix.get(1, 1)).toBeCloseTo(recomputed.scale, 12);
    expect(-matrix.get(0, 2) / matrix.get(0, 0)).toBeCloseTo(recomputed.centroid[0], 12);
    expect(-matrix.get(1, 2) / matrix.get(1, 1)).toBeCloseTo(recomputed.centroid[1], 12);
    expect(Math.SQRT2 / matrix.get(0, 0)).toBeCloseTo(recomputed.mean_distance, 12);
  });
});
