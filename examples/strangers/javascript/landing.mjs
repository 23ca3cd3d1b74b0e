// A drop: one end of the bike from touching the ground to its deepest travel, by
// m·ẅ = P − F_w(w) − c·ẇ. The stroke stands for w, so that force and lever ratio
// follow without a search: ṡ = ẇ/LR.

import { End, g0 } from './bike.mjs';
import { root } from './numeric.mjs';

const divisions = [2, 4, 6, 8, 10, 12, 14, 16];

/**
 * advance returns the state after a step h, by the midpoint rule with ever more
 * divisions, extrapolated to infinitely many, and the size of the last correction.
 */
function advance(rates, state, h) {
  const table = [];
  for (const n of divisions) {
    const step = h / n;
    let before = state;
    let now = state.map((e, i) => e + step * rates(state)[i]);
    for (let k = 1; k < n; k++) {
      const slope = rates(now);
      [before, now] = [now, before.map((e, i) => e + 2 * step * slope[i])];
    }
    const slope = rates(now);
    let row = [now.map((e, i) => (e + before[i] + step * slope[i]) / 2)];
    table.forEach((_, j) => {
      const factor = 1 / ((n / divisions[divisions.indexOf(n) - j - 1]) ** 2 - 1);
      row.push(row[j].map((e, i) => e + (e - table.at(-1)[j][i]) * factor));
    });
    table.push(row);
  }
  const [almost, best] = table.at(-1).slice(-2);
  return { state: best, error: best.map((e, i) => Math.abs(e - almost[i])) };
}

/** The condition of sag.landing on its damping. */
export function checkLanding(input) {
  if (!input.clean) return;
  const { load: P, damping: c = 0 } = input.values;
  const end = new End(input.values);
  const most = Math.max(end.force(end.stroke) - end.force(0), P) / end.travel;
  if (c > 20 * 2 * Math.sqrt((most * P) / g0)) input.refuse('damping');
}

/** sag.landing */
export function landing(v, refuse) {
  const { load: P, drop_height, damping: c = 0 } = v;
  const end = new End(v);
  const { curve, law } = end;
  const m = P / g0;
  const deepest = (answer) => ({ used: answer.travel / curve.travel, ...answer });

  // The state is the stroke, the speed of the wheel and the damper's work.
  let state = [0, Math.sqrt(2 * g0 * drop_height), 0];
  if (state[1] === 0 && P <= end.force(0)) {
    const force = end.force(0);
    return deepest({ travel: 0, force, peak_force: force, damper_work: 0, time: 0, energy_left: 0 });
  }
  const knots = [...new Set([...law.pieces.map((p) => p.from), ...(curve.knots ?? []), end.stroke])]
    .filter((s) => s > 0 && s <= end.stroke).sort((a, b) => a - b);
  const period = Math.sqrt((m * end.travel) / Math.max(P, end.force(end.stroke)));
  let time = 0, peak = -Infinity, from = 0;
  for (const to of knots) {
    const part = law.pieceAt((from + to) / 2);
    const wheelForce = ([s]) => part.force(s) / curve.ratioAt(s);
    const pushed = (y) => wheelForce(y) + c * y[1];
    const rates = (y) => [y[1] / curve.ratioAt(y[0]), (P - pushed(y)) / m, c * y[1] * y[1]];
    // How fast spring and damper together push harder.
    const pushing = (y) => {
      const LR = curve.ratioAt(y[0]);
      const rate = part.rate(y[0]) / LR ** 2 - (part.force(y[0]) * curve.slopeAt(y[0])) / LR ** 3;
      return rate * y[1] + c * rates(y)[1];
    };
    let step = period / 20;
    peak = Math.max(peak, pushed(state));
    while (state[0] < to) {
      if (time > 1e4 * period) return refuse('damping');
      const { state: next, error } = advance(rates, state, step);
      const isGood = error.every((e, i) => e <= 1e-13 * Math.max(Math.abs(next[i]), [end.stroke, 1e-3, 1e-3][i])) && next.every(Number.isFinite);
      if (!isGood && step > 1e-7 * period) {
        step /= 2;
        continue;
      }
      // The first of both ends of this part: the next knot, or the wheel's stop.
      const after = (h) => advance(rates, state, h).state;
      const knotAt = next[0] >= to ? root((h) => after(h)[0] - to, 0, step) : Infinity;
      const stopAt = next[1] <= 0 ? root((h) => (h === 0 ? 1 : after(h)[1]), 0, step) : Infinity;
      const taken = Math.min(step, knotAt, stopAt);
      const reached = after(taken);
      if (pushing(state) > 0 && pushing(reached) < 0) peak = Math.max(peak, pushed(after(root((h) => pushing(after(h)), 0, taken))));
      peak = Math.max(peak, pushed(reached));
      time += taken;
      state = reached;
      if (stopAt === taken) {
        const [s, , work] = state;
        return deepest({ travel: curve.travelAt(s), force: wheelForce(state), peak_force: peak, damper_work: work, time, energy_left: 0 });
      }
      if (knotAt === taken) state[0] = to;
      step = Math.min(2 * step, period / 20);
    }
    from = to;
  }
  return deepest({
    travel: end.travel,
    force: end.force(end.stroke),
    peak_force: peak,
    damper_work: state[2],
    time,
    energy_left: (m * state[1] ** 2) / 2,
  });
}
