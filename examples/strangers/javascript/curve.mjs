// Curves: the wheel's travel w over the stroke s of a spring, its derivative, the
// lever ratio LR, and the slope of that, from constants, forks and tables. A curve
// has stroke and travel, both full, and travelAt, ratioAt, slopeAt and strokeAt.

import { clamp, extremes, integral, leastSquares, root, solve } from './numeric.mjs';
import { fault } from './reader.mjs';

const leastRatio = 0.001;
const greatestRatio = 1000;
const leastLength = 1e-6;
const greatestLength = 1000;

/** Whether a lever ratio is within what is computed. */
export const isRatio = (LR) => LR >= leastRatio && LR <= greatestRatio;
const isLength = (x) => x >= leastLength && x <= greatestLength;

/** A lever ratio that does not change. */
function constant(ratio, travel) {
  return {
    stroke: travel / ratio,
    travel,
    travelAt: (s) => s * ratio,
    ratioAt: () => ratio,
    slopeAt: () => 0,
    strokeAt: (w) => w / ratio,
    moveAt: (s) => [0, s * ratio],
    directionAt: () => [0, ratio],
  };
}

/** A fork, whose stroke is along its stanchions. */
export function fork({ head_angle, travel }) {
  const [cos, sin] = [Math.cos(head_angle), Math.sin(head_angle)];
  return {
    ...constant(sin, travel * sin),
    stroke: travel,
    moveAt: (s) => [-s * cos, s * sin],
    directionAt: () => [-cos, sin],
    headAngle: head_angle,
  };
}

/** The curve that an object of the form curve is. */
export function curveOf(v) {
  return v.fork ?? v.table ?? v.mechanism ?? constant(v.constant, v.travel);
}

/** Piecewise is a polynomial between each two of its knots, in x − knot. */
class Piecewise {
  constructor(knots, coefficients) {
    this.knots = knots;
    this.coefficients = coefficients; // of each interval, the constant first
  }

  get end() { return this.knots.at(-1); }

  #interval(x) {
    let low = 0, high = this.coefficients.length - 1;
    while (low < high) {
      const middle = Math.ceil((low + high) / 2);
      if (this.knots[middle] <= x) low = middle;
      else high = middle - 1;
    }
    return low;
  }

  at(x) {
    const i = this.#interval(x);
    const h = x - this.knots[i];
    return this.coefficients[i].reduceRight((value, c) => value * h + c, 0);
  }

  get derivative() {
    return new Piecewise(this.knots, this.coefficients.map((c) => c.slice(1).map((e, k) => e * (k + 1))));
  }

  get antiderivative() {
    let value = 0;
    const coefficients = this.coefficients.map((c, i) => {
      const integrated = [value, ...c.map((e, k) => e / (k + 1))];
      const h = this.knots[i + 1] - this.knots[i];
      value = integrated.reduceRight((sum, e) => sum * h + e, 0);
      return integrated;
    });
    return new Piecewise(this.knots, coefficients);
  }

  /** Whether all values are lever ratios. */
  get areRatios() {
    return this.coefficients.every((c, i) => extremes(c, 0, this.knots[i + 1] - this.knots[i]).every(isRatio));
  }
}

// hermite is the piecewise cubic through points with given slopes.
function hermite(x, y, slopes) {
  return new Piecewise(x, x.slice(1).map((end, i) => {
    const h = end - x[i];
    const rise = (y[i + 1] - y[i]) / h;
    return [y[i], slopes[i], (3 * rise - 2 * slopes[i] - slopes[i + 1]) / h, (slopes[i] + slopes[i + 1] - 2 * rise) / h ** 2];
  }));
}

function steps(x, y) {
  const h = x.slice(1).map((end, i) => end - x[i]);
  return { h, rise: h.map((step, i) => (y[i + 1] - y[i]) / step) };
}

/** PCHIP: slopes that keep the interpolant monotone wherever the points are. */
function monotone(x, y) {
  const { h, rise } = steps(x, y);
  if (h.length === 1) return new Piecewise(x, [[y[0], rise[0]]]);
  const atEnd = (h0, h1, rise0, rise1) => {
    const slope = ((2 * h0 + h1) * rise0 - h0 * rise1) / (h0 + h1);
    if (Math.sign(slope) !== Math.sign(rise0)) return 0;
    if (Math.sign(rise0) !== Math.sign(rise1) && Math.abs(slope) > 3 * Math.abs(rise0)) return 3 * rise0;
    return slope;
  };
  const slopes = x.map((_, i) => {
    if (i === 0) return atEnd(h[0], h[1], rise[0], rise[1]);
    if (i === h.length) return atEnd(h.at(-1), h.at(-2), rise.at(-1), rise.at(-2));
    if (rise[i - 1] * rise[i] <= 0) return 0;
    const w1 = 2 * h[i] + h[i - 1];
    const w2 = h[i] + 2 * h[i - 1];
    return (w1 + w2) / (w1 / rise[i - 1] + w2 / rise[i]);
  });
  return hermite(x, y, slopes);
}

/** The cubic spline whose third derivative is continuous next to the ends. */
function smooth(x, y) {
  const { h, rise } = steps(x, y);
  const last = h.length;
  const A = x.map(() => new Array(x.length).fill(0));
  const b = new Array(x.length);
  const end = (row, at, towards, h0, h1, rise0, rise1) => {
    A[row][at] = h1;
    A[row][at + towards] = h0 + h1;
    b[row] = ((h0 + 2 * (h0 + h1)) * h1 * rise0 + h0 ** 2 * rise1) / (h0 + h1);
  };
  end(0, 0, 1, h[0], h[1], rise[0], rise[1]);
  end(last, last, -1, h[last - 1], h[last - 2], rise[last - 1], rise[last - 2]);
  for (let i = 1; i < last; i++) {
    A[i][i - 1] = h[i];
    A[i][i] = 2 * (h[i - 1] + h[i]);
    A[i][i + 1] = h[i - 1];
    b[i] = 3 * (h[i] * rise[i - 1] + h[i - 1] * rise[i]);
  }
  return hermite(x, y, solve(A, b).x);
}

/** The polynomial with powers first, first + 1, … nearest to readings. */
function fitted(x, y, first, count) {
  const greatest = Math.max(...x);
  const powers = Array.from({ length: count }, (_, k) => first + k);
  const best = leastSquares(x.map((e) => powers.map((k) => (e / greatest) ** k)), y);
  const coefficients = [...new Array(first).fill(0), ...best].map((c, k) => c / greatest ** k);
  return new Piecewise([0, greatest], [coefficients]);
}

const degreeOf = ({ degree }, count) => degree ?? (count < 7 ? 3 : 4);

// interpolant goes through, or near, the points by the table's method; a fit of
// travels has no constant.
function interpolant(v, x, y, isTravel) {
  if (v.method === 'smooth') return smooth(x, y);
  if (v.method === 'measured') return fitted(x, y, isTravel ? 1 : 0, degreeOf(v, x.length));
  return monotone(x, y);
}

/** The curve of a table. */
export function table(v) {
  const { stroke: strokes, travel: travels, lever_ratio: ratios } = v;
  if (!ratios) return overStroke(interpolant(v, strokes, travels, true));
  if (strokes) return overStroke(interpolant(v, strokes, ratios, false).antiderivative);
  return overTravel(interpolant(v, travels, ratios, false));
}

// overStroke is the curve of w as a function of s.
function overStroke(w) {
  const ratio = w.derivative;
  const slope = ratio.derivative;
  const curve = {
    stroke: w.end,
    travel: w.at(w.end),
    knots: w.knots,
    travelAt: (s) => w.at(s),
    ratioAt: (s) => ratio.at(s),
    slopeAt: (s) => slope.at(s),
    strokeAt: (at) => (at >= curve.travel ? w.end : at <= 0 ? 0 : root((s) => w.at(s) - at, 0, w.end)),
    moveAt: (s) => [0, w.at(s)],
    directionAt: (s) => [0, ratio.at(s)],
    isValid: ratio.areRatios && isLength(w.end) && isLength(w.at(w.end)),
  };
  return curve;
}

// overTravel is the curve of LR as a function of w.
function overTravel(ratio) {
  if (!ratio.areRatios) return { isValid: false };
  const slope = ratio.derivative;
  const travel = ratio.end;
  // Strokes up to each knot, and within an interval from its knot on.
  const { knots } = ratio;
  const strokes = [0];
  const part = (from, to) => integral((w) => 1 / ratio.at(clamp(w, from, to)), from, to);
  for (let i = 1; i < knots.length; i++) strokes.push(strokes[i - 1] + part(knots[i - 1], knots[i]));
  const stroke = strokes.at(-1);
  const strokeAt = (w) => {
    if (w >= travel) return stroke;
    const i = knots.findLastIndex((knot) => knot <= w);
    return strokes[i] + part(knots[i], w);
  };
  const travelAt = (s) => {
    if (s >= stroke) return travel;
    const i = strokes.findLastIndex((at) => at <= s);
    return root((w) => strokes[i] + part(knots[i], w) - s, knots[i], knots[i + 1]);
  };
  const ratioAt = (s) => ratio.at(travelAt(s));
  return {
    stroke, travel, travelAt, strokeAt, ratioAt,
    knots: strokes,
    slopeAt: (s) => slope.at(travelAt(s)) * ratioAt(s),
    moveAt: (s) => [0, travelAt(s)],
    directionAt: (s) => [0, ratioAt(s)],
    isValid: isLength(stroke) && isLength(travel),
  };
}

const columns = ['stroke', 'travel', 'lever_ratio'];

/** The conditions of the form table; they end with a curve at last. */
export function checkTable(input) {
  const v = input.values;
  const isMeasured = v.method === 'measured';
  const given = columns.filter((name) => input.given(name));
  if (given.length === 3) input.refuse('lever_ratio');
  if (given.length === 1 && given[0] === 'lever_ratio') input.refuse('stroke');
  if (input.good('degree') && input.good('method') !== input.given('method')) return;
  if (input.good('degree') && !isMeasured) input.refuse('degree');
  if (input.given('method') && !input.good('method')) return;

  const least = isMeasured ? { 3: 5, 4: 7, 5: 8 }[v.degree ?? 3] : v.method === 'smooth' ? 4 : 2;
  const short = given.filter((name) => input.good(name) && v[name].length < least);
  for (const name of short) input.refuse(name);
  const long = given.filter((name) => input.good(name));
  if (given.length !== 2) return;
  const lists = long.map((name) => [name, v[name]]);
  if (long.length === 2 && v[given[0]].length !== v[given[1]].length) input.refuse(given[1]);

  const isRatioTable = given[1] === 'lever_ratio';
  for (const [name, list] of lists) {
    const bad = name === 'lever_ratio' ? where(list, (LR) => !isRatio(LR))
      : isMeasured ? badReadings(list, name === 'travel' && !isRatioTable)
        : badPlaces(list, name === 'stroke' || isRatioTable ? 1e-9 : 0);
    for (const i of bad) input.refuse(`${name}[${i}]`, fault.range);
  }
  if (!input.clean) return;
  if (isMeasured) {
    const [places] = given.map((name) => v[name]);
    const different = new Set(isRatioTable ? places : places.filter((x) => x !== 0)).size;
    const counted = isRatioTable ? places.length : places.filter((x) => x !== 0).length;
    const coefficients = degreeOf(v, places.length);
    if (different < coefficients || counted <= coefficients) return input.refuse('stroke');
  }
  if (!table(v).isValid) input.refuse(given[1]);
}

// where are the indices of a list's elements that are so.
const where = (list, isSo) => list.flatMap((x, i) => (isSo(x, i) ? [i] : []));

// badPlaces are those of strokes or travels that are not as they must be: each is
// more than the one before, by a share of the last.
function badPlaces(list, share) {
  const last = list.at(-1);
  const bad = where(list, (x, i) => (i === 0 ? x !== 0 : !(x > list[i - 1] && x - list[i - 1] >= share * last)));
  return bad.length > 0 || isLength(last) ? bad : [list.length - 1];
}

// badReadings are the same of readings, in any order.
function badReadings(list, isTravel) {
  if (isTravel) return where(list, (w) => Math.abs(w) > greatestLength);
  const outside = where(list, (s) => s < 0 || s > greatestLength);
  if (outside.length > 0) return outside;
  const greatest = Math.max(...list);
  const least = Math.min(...list);
  if (greatest < leastLength) return [list.indexOf(greatest)];
  return least > greatest / 10 ? [list.indexOf(least)] : [];
}

/** linkage.table */
export function tableAt(v) {
  const curve = table(v);
  const at = (v.at ?? []).map((s) => clamp(s, 0, curve.stroke));
  const [first, last] = [curve.ratioAt(0), curve.ratioAt(curve.stroke)];
  return {
    travel: at.map((s) => curve.travelAt(s)),
    lever_ratio: at.map((s) => curve.ratioAt(s)),
    lever_ratio_slope: at.map((s) => curve.slopeAt(s)),
    stroke_full: curve.stroke,
    progression: (first - last) / first,
  };
}
