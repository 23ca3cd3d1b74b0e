// An air spring whose chambers are not known, from readings of gauge and ring:
// force + A·p_a = (fill + p_a)·Φ(stroke), Φ the areas times the volumes' ratios.

import { circle, greatestFill } from './air.mjs';
import { leastSquares, solve, sum } from './numeric.mjs';

/** A spring with one chamber: Φ = a/(h − s), so that s falls evenly with 1/Φ. */
const oneChamber = {
  strokes: 2,
  phi: ([a, h], s) => a / (h - s),
  slope: ([a, h], s) => a / (h - s) ** 2,
  stroke: ([a, h], phi) => h - a / phi,
  // Near the best parameters, by equations that are linear in them.
  guess: (readings) => {
    const [h, a] = leastSquares(readings.map(({ phi }) => [1, -1 / phi]), readings.map(({ s }) => s));
    return [a, h];
  },
};

/** A spring with a negative chamber too: Φ = a/(h − s) − b/(k + s). */
const twoChambers = {
  strokes: 4,
  phi: ([a, h, b, k], s) => a / (h - s) - b / (k + s),
  slope: ([a, h, b, k], s) => a / (h - s) ** 2 + b / (k + s) ** 2,
  stroke: ([a, h, b, k], phi) => {
    // Φ·s² + B·s + C = 0, of which the greater root is between −k and h.
    const B = a + b - phi * (h - k);
    const C = a * k - b * h - phi * h * k;
    const d = Math.sqrt(Math.max(B * B - 4 * phi * C, 0));
    return B > 0 ? (-2 * C) / (B + d) : (d - B) / (2 * phi);
  },
  guess: (readings) => {
    const [x1, x2, x3, x4] = leastSquares(
      readings.map(({ s, phi }) => [phi * s, phi, -s, -1]),
      readings.map(({ s, phi }) => phi * s * s),
    );
    const h = (x1 + Math.sqrt(x1 * x1 + 4 * x2)) / 2;
    const k = h - x1;
    const a = (x4 + h * x3) / (h + k);
    return [a, h, x3 - a, k];
  },
  // Elsewhere: a and b by equations that are linear in them, for some h and k.
  others: (readings, deepest) => [1.1, 1.5, 2.5].flatMap((h) => [0.05, 0.3, 1].map((k) => {
    const [a, b] = leastSquares(
      readings.map(({ s }) => [1 / (h * deepest - s), -1 / (k * deepest + s)]),
      readings.map(({ phi }) => phi),
    );
    return [a, h * deepest, b, k * deepest];
  })),
};

const areValid = (parameters, deepest) =>
  parameters.every((p) => p > 0 && Number.isFinite(p)) && parameters[1] > deepest;

/** The parameters nearest to the readings, undefined where no spring gives them. */
function fit(model, readings) {
  const deepest = Math.max(...readings.map(({ s }) => s));
  const start = model.guess(readings);
  if (new Set(readings.map(({ s }) => s)).size === readings.length && readings.length === model.strokes) {
    return areValid(start, deepest) ? start : undefined;
  }
  const residuals = (p) => readings.map(({ s, phi, ringError, phiError }) => {
    const at = model.stroke(p, phi);
    return (s - at) / Math.hypot(ringError, phiError / model.slope(p, at));
  });
  const size = (p) => sum(residuals(p).map((r) => r * r));
  const starts = [start, ...(model.others?.(readings, deepest) ?? [])].filter((p) => areValid(p, deepest));
  const found = starts.map((p) => improve(residuals, p)).filter((p) => p && areValid(p, deepest));
  return found.sort((p, q) => size(p) - size(q))[0];
}

/** improve makes the sum of squares least, by the damped method of Gauss and Newton. */
function improve(residuals, start) {
  let parameters = start;
  let damping = 1e-3;
  const squares = (p) => sum(residuals(p).map((r) => r * r));
  for (let i = 0; i < 300; i++) {
    const r = residuals(parameters);
    const columns = parameters.map((p, j) => derivative((x) => residuals(parameters.map((q, m) => (m === j ? x : q))), p));
    const product = (a, b) => sum(a.map((e, m) => e * b[m]));
    const A = columns.map((c, j) => columns.map((d, m) => product(c, d) * (j === m ? 1 + damping : 1)));
    const { x: step } = solve(A, columns.map((c) => product(c, r)));
    if (!step) return undefined;
    const next = parameters.map((p, j) => p - step[j]);
    const isBetter = next.every((p) => p > 0) && squares(next) <= squares(parameters) * (1 + 1e-12);
    if (!isBetter) {
      damping = Math.max(10 * damping, 1e-6);
      if (damping > 1e12) return parameters;
      continue;
    }
    parameters = next;
    if (step.every((e, j) => Math.abs(e) <= 1e-14 * next[j])) return parameters;
    damping = damping < 1e-8 ? 0 : damping / 10;
  }
  return parameters;
}

// derivative is that of a list of values, by differences of fourth order.
function derivative(f, x) {
  const h = 1e-3 * x;
  const [a, b, c, d] = [f(x - 2 * h), f(x - h), f(x + h), f(x + 2 * h)];
  return a.map((_, i) => (a[i] - 8 * b[i] + 8 * c[i] - d[i]) / (12 * h));
}

const strokeOf = ({ stroke, stroke_back: back }) => (back === undefined ? stroke : (stroke + back) / 2);

/** The condition of a reading: the way back is not shorter. */
export function checkReading(input) {
  const { stroke, stroke_back: back } = input.values;
  if (stroke !== undefined && back !== undefined && back < stroke) input.refuse('stroke_back');
}

/** The conditions of airspring.calibrate and sag.calibrate on their readings. */
export function checkCalibration(input) {
  const { readings, negative_chamber: hasNegative, curve } = input.values;
  if (!readings) return;
  if (curve) {
    readings.forEach(({ stroke, stroke_back, load = 0 }, i) => {
      let isInside = true;
      for (const [name, s] of Object.entries({ stroke, stroke_back })) {
        if (!(s > curve.stroke)) continue;
        isInside = false;
        input.refuse(`readings[${i}].${name}`);
      }
      if (isInside && load * curve.ratioAt(strokeOf({ stroke, stroke_back })) > 1e9) input.refuse(`readings[${i}].load`);
    });
    if (!input.values.readings) return;
  }
  if (hasNegative === undefined) return;
  const different = new Set(readings.map(strokeOf)).size;
  if (different < (hasNegative ? twoChambers : oneChamber).strokes) return input.refuse('readings');
  const optional = ['ring_error', 'gauge_error', 'curve'].filter((name) => input.given(name));
  if (input.good('ambient', 'outside_diameter', ...optional) && !springOf(input.values)) input.refuse('readings');
}

/**
 * The spring of readings: Φ and the deepest stroke of its chamber, undefined
 * where no spring gives these readings.
 */
function springOf(v) {
  const { ambient, negative_chamber, outside_diameter, ring_error = 1e-3, gauge_error = 0, curve } = v;
  const outside = circle(outside_diameter) * ambient;
  const model = negative_chamber ? twoChambers : oneChamber;
  const raw = v.readings.map((r) => {
    const s = strokeOf(r);
    const force = curve ? (r.load ?? 0) * curve.ratioAt(s) : r.force ?? 0;
    return { s, phi: (force + outside) / (r.fill + ambient), absolute: r.fill + ambient };
  });
  // In units of the deepest stroke and the greatest Φ, parameters are near 1.
  const deepest = Math.max(...raw.map(({ s }) => s));
  const most = Math.max(...raw.map(({ phi }) => phi));
  const parameters = fit(model, raw.map(({ s, phi, absolute }) => ({
    s: s / deepest,
    phi: phi / most,
    ringError: ring_error / deepest,
    phiError: ((phi / most) * gauge_error) / absolute,
  })));
  if (!parameters) return undefined;
  return { outside, end: deepest * parameters[1], phi: (s) => most * model.phi(parameters, s / deepest) };
}

// fillOf is the fill that carries a force at a stroke, or the name of what is bad.
function fillOf(v, force, at) {
  const { outside, end, phi } = springOf(v);
  if (!(at < end && phi(at) > 0)) return { none: 'at' };
  const fill = (force + outside) / phi(at) - v.ambient;
  return fill > 0 && fill <= greatestFill ? { fill } : { none: 'force' };
}

/** airspring.calibrate */
export function calibrate(v, refuse) {
  const { fill, none } = fillOf(v, v.force, v.at ?? 0);
  return none ? refuse(none) : { fill };
}

/** sag.calibrate */
export function calibrateAtWheel(v, refuse) {
  const { curve, load, sag } = v;
  const at = curve.strokeAt(sag * curve.travel);
  const { fill, none } = fillOf(v, load * curve.ratioAt(at), at);
  return none ? refuse({ at: 'sag', force: 'load' }[none]) : { fill };
}
