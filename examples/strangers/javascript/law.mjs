// Laws of force over travel, as pieces within which the force is smooth and
// rises. A piece has from and to, and as functions of the travel its force,
// rate and energy (from travel 0 on); stretch is the travel at which it has a
// force.

import { clamp, root, sum } from './numeric.mjs';

const relative = 1e-12; // of the travel: what counts as one place

/** Piece of a law; stretch is found by bisection where none is given. */
export function piece({ from, to, force, rate, energy, stretch }) {
  const low = force(from);
  const high = force(to);
  return {
    from, to, force, rate, energy, low, high,
    stretch: (F) => {
      if (F <= low) return from;
      if (F >= high) return to;
      return clamp(stretch ? stretch(F) : root((x) => force(x) - F, from, to), from, to);
    },
  };
}

/** Law is a spring: its pieces one after the other, from travel 0 to its end. */
export class Law {
  constructor(pieces) {
    this.travel = pieces.at(-1).to;
    const least = relative * this.travel;
    this.pieces = pieces.filter((p, i) => p.to - p.from > least || pieces.length === 1);
  }

  /** The piece that counts at x: where one ends, the next. */
  pieceAt(x) {
    const place = x + relative * this.travel;
    return this.pieces.findLast((p) => p.from <= place) ?? this.pieces[0];
  }

  #evaluate(name, x) {
    const inside = clamp(x, 0, this.travel);
    const p = this.pieceAt(inside);
    return p[name](clamp(inside, p.from, p.to));
  }

  force(x) { return this.#evaluate('force', x); }
  rate(x) { return this.#evaluate('rate', x); }
  energy(x) { return this.#evaluate('energy', x); }

  get first() { return this.pieces[0].low; }
  get last() { return this.pieces.at(-1).high; }

  /** The travel at which the law has a force, or the name of why there is none. */
  travelAt(F) {
    if (F < this.first) return { none: 'topped_out' };
    if (F > this.last) return { none: 'bottomed_out' };
    const p = this.pieces.find((q) => F <= q.high);
    return F < p.low ? { none: 'load' } : { travel: p.stretch(F) };
  }
}

/** F = k·(x + preload). */
export function linear({ rate: k, travel, preload = 0 }) {
  return new Law([piece({
    from: 0,
    to: travel,
    force: (x) => k * (x + preload),
    rate: () => k,
    energy: (x) => k * x * (x / 2 + preload),
    stretch: (F) => F / k - preload,
  })]);
}

/** Groups of coils in series, each of which closes at its own force. */
function groups(list) {
  const closing = list.map(({ rate, gap }) => ({ rate, gap, force: rate * gap })).sort((a, b) => a.force - b.force);
  const pieces = [];
  let x = 0, F = 0, E = 0;
  closing.forEach(({ force: end }, i) => {
    const k = 1 / sum(closing.slice(i).map(({ rate }) => 1 / rate));
    const [x0, F0, E0] = [x, F, E];
    const length = (end - F0) / k;
    if (length <= 0) return;
    pieces.push(piece({
      from: x0,
      to: x0 + length,
      force: (at) => F0 + k * (at - x0),
      rate: () => k,
      energy: (at) => E0 + (at - x0) * (F0 + (k * (at - x0)) / 2),
      stretch: (force) => x0 + (force - F0) / k,
    }));
    x += length;
    F = end;
    E = E0 + (length * (F0 + end)) / 2;
  });
  return new Law(pieces);
}

/** A law from a compression of preload on. */
function preloaded(law, preload) {
  const before = law.energy(preload);
  const pieces = law.pieces.filter((p) => p.to > preload).map((p) => piece({
    from: Math.max(p.from - preload, 0),
    to: p.to - preload,
    force: (x) => p.force(x + preload),
    rate: (x) => p.rate(x + preload),
    energy: (x) => p.energy(x + preload) - before,
    stretch: (F) => p.stretch(F) - preload,
  }));
  return new Law(pieces);
}

/** A soft spring that is stopped after soft_travel, on top of a main one. */
export function dualRate({ soft_rate, main_rate, soft_travel, main_travel, preload = 0 }) {
  return preloaded(groups([{ rate: soft_rate, gap: soft_travel }, { rate: main_rate, gap: main_travel }]), preload);
}

/** A spring whose gap between coils grows evenly along its coils. */
export function linearPitch({ wire_diameter: d, mean_diameter: D, active_coils: n, shear_modulus: G, first_gap = 0, last_gap = 0 }) {
  const k1 = (G * d ** 4) / (8 * D ** 3); // of one coil
  const g = Math.min(first_gap, last_gap);
  const h = Math.abs(first_gap - last_gap);
  const pieces = [];
  if (g > 0) {
    pieces.push(piece({
      from: 0,
      to: n * g,
      force: (x) => (k1 * x) / n,
      rate: () => k1 / n,
      energy: (x) => (k1 * x * x) / (2 * n),
      stretch: (F) => (n * F) / k1,
    }));
  }
  if (h > 0) {
    // v = u − g is the deflection of an open coil beyond the smallest gap.
    const beyond = (x) => {
      const y = Math.max(x / n - g, 0);
      return (2 * y) / (1 + Math.sqrt(Math.max(1 - (2 * y) / h, 0)));
    };
    pieces.push(piece({
      from: n * g,
      to: n * (g + h / 2),
      force: (x) => k1 * (g + beyond(x)),
      rate: (x) => k1 / n / Math.max(1 - beyond(x) / h, 0.001),
      energy: (x) => {
        const v = beyond(x);
        return n * k1 * ((g * g) / 2 + g * v + (v * v) / 2 - (g * v * v) / (2 * h) - v ** 3 / (3 * h));
      },
      stretch: (F) => {
        const v = F / k1 - g;
        return n * (g + v - (v * v) / (2 * h));
      },
    }));
  }
  return new Law(pieces);
}

/** Springs side by side: forces add, each counted from where it starts. */
function parallel(members) {
  const travel = Math.min(...members.map(({ law, starts_at = 0 }) => starts_at + law.travel));
  const ends = new Set([0, travel]);
  for (const { law, starts_at = 0 } of members) {
    for (const p of law.pieces) ends.add(starts_at + p.from);
  }
  const places = [...ends].filter((x) => x <= travel).sort((a, b) => a - b)
    .filter((x, i, all) => i === 0 || x === travel || x - all[i - 1] > relative * travel);
  const pieces = places.slice(1).map((to, i) => {
    const from = places[i];
    const middle = (from + to) / 2;
    const active = members.filter(({ starts_at = 0 }) => starts_at < middle)
      .map(({ law, starts_at = 0 }) => ({ starts_at, part: law.pieceAt(middle - starts_at) }));
    const total = (name) => (x) => sum(active.map(({ starts_at, part }) => part[name](x - starts_at)));
    return piece({ from, to, force: total('force'), rate: total('rate'), energy: total('energy') });
  });
  return new Law(pieces);
}

/**
 * Springs on end: they share the force. Between two forces at which one of them
 * begins or ceases to move, the same ones move; where none does the force jumps.
 */
function series(laws) {
  const parts = laws.flatMap((law) => law.pieces);
  const forces = [...new Set(parts.flatMap((p) => [p.low, p.high]))].sort((a, b) => a - b);
  const pieces = [];
  let x = 0;
  for (let i = 1; i < forces.length; i++) {
    const [low, high] = [forces[i - 1], forces[i]];
    const moving = parts.filter((p) => p.low <= low && p.high >= high);
    if (moving.length === 0) continue;
    const way = (F) => sum(moving.map((p) => p.stretch(F) - p.stretch(low)));
    const length = way(high);
    if (length <= 0) continue;
    const from = x;
    const before = sum(laws.map((law) => law.energy(at(law, low))));
    const forceAt = (place) => {
      if (place <= from) return low;
      if (place >= from + length) return high;
      return root((F) => way(F) - (place - from), low, high);
    };
    pieces.push(piece({
      from,
      to: from + length,
      force: forceAt,
      rate: (place) => {
        const F = forceAt(place);
        return 1 / sum(moving.map((p) => 1 / p.rate(p.stretch(F))));
      },
      energy: (place) => {
        const F = forceAt(place);
        return before + sum(moving.map((p) => p.energy(p.stretch(F)) - p.energy(p.stretch(low))));
      },
      stretch: (F) => from + way(F),
    }));
    x += length;
  }
  return new Law(pieces);
}

// at is where a law stands under a force that it may not reach or may exceed.
function at(law, F) {
  const found = law.travelAt(F);
  if (found.travel !== undefined) return found.travel;
  if (found.none === 'topped_out') return 0;
  if (found.none === 'bottomed_out') return law.travel;
  return law.pieces.findLast((p) => p.high < F).to;
}

/** The conditions of the form dual_rate. */
export function checkDualRate(input) {
  const v = input.values;
  if (input.good('soft_rate', 'main_rate', 'soft_travel', 'main_travel')
    && !(v.main_rate * v.main_travel > v.soft_rate * v.soft_travel)) input.refuse('main_travel');
  if (input.good('preload', 'soft_travel', 'main_travel')
    && !(v.preload < v.soft_travel + v.main_travel)) input.refuse('preload');
}

/** The conditions of the form linear_pitch. */
export function checkLinearPitch(input) {
  const v = input.values;
  if (input.good('wire_diameter', 'mean_diameter') && !(v.wire_diameter < v.mean_diameter)) input.refuse('wire_diameter');
  const isNone = (name) => v[name] === 0 || !input.given(name);
  if (isNone('first_gap') && isNone('last_gap')) input.refuse('last_gap');
}

/** The condition of the form law: no member starts after the end of the whole. */
export function checkLaw(input) {
  const { parallel: members } = input.values;
  if (!members) return;
  const travel = Math.min(...members.map(({ law, starts_at = 0 }) => starts_at + law.travel));
  members.forEach(({ starts_at = 0 }, i) => {
    if (!(starts_at < travel)) input.refuse(`parallel[${i}].starts_at`);
  });
}

/** The law that an object of the form law is. */
export function lawOf(v) {
  const [kind] = Object.keys(v);
  switch (kind) {
    case 'series': return series(v.series);
    case 'parallel': return parallel(v.parallel);
    case 'groups': return groups(v.groups);
    case 'air': return v.air.law;
  }
  return v[kind];
}

/** The condition of spring.law: something must be wanted. */
export function checkLawAt(input) {
  const isEmpty = (name) => !input.given(name) || input.values[name]?.length === 0;
  if (!isEmpty('at') || !isEmpty('load')) return;
  for (const name of ['at', 'load']) input.excuse(name);
  input.refuse('at');
}

/** spring.law */
export function lawAt({ law, at: travels, load: loads }, refuse) {
  const answer = {};
  if (travels) {
    answer.force = travels.map((x) => law.force(x));
    answer.rate = travels.map((x) => law.rate(x));
    answer.energy = travels.map((x) => law.energy(x));
  }
  if (loads) {
    const found = loads.map((F) => law.travelAt(F));
    const none = new Set(found.filter((f) => f.none).map((f) => f.none));
    if (none.size > 0) return refuse(...none);
    answer.travel = found.map((f) => f.travel);
  }
  return answer;
}
