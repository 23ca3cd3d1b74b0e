// The bike: loads of rider and bike, and an end of it, a spring behind a curve.

import { fillFor } from './air.mjs';
import { clamp, root } from './numeric.mjs';

export const g0 = 9.80665; // m/s²

/** End is a spring behind a curve; it ends where the first of them does. */
export class End {
  constructor({ curve, law }) {
    this.curve = curve;
    this.law = law;
    this.stroke = Math.min(curve.stroke, law.travel);
    this.travel = curve.travelAt(this.stroke);
  }

  /** Force at the wheel at a stroke. */
  force(s) { return this.law.force(s) / this.curve.ratioAt(s); }

  /** Rate at the wheel at a stroke. */
  rate(s) {
    const LR = this.curve.ratioAt(s);
    return this.law.rate(s) / LR ** 2 - (this.law.force(s) * this.curve.slopeAt(s)) / LR ** 3;
  }

  strokeAt(w) { return clamp(this.curve.strokeAt(clamp(w, 0, this.travel)), 0, this.stroke); }

  /** Where the spring, with a push of its friction, carries a load at the wheel. */
  rest(load, friction = 0) {
    const spare = (s) => this.law.force(s) + friction - load * this.curve.ratioAt(s);
    if (spare(0) >= 0) return 0;
    if (spare(this.stroke) <= 0) return this.stroke;
    return root(spare, 0, this.stroke);
  }
}

/** linkage.wheel */
export function wheel(v) {
  const end = new End(v);
  const strokes = (v.at ?? []).map((w) => end.strokeAt(w));
  return {
    force: strokes.map((s) => end.force(s)),
    rate: strokes.map((s) => end.rate(s)),
    energy: strokes.map((s) => end.law.energy(s)),
  };
}

/** sag.settle */
export function settle(v, refuse) {
  const { load, friction = 0 } = v;
  const end = new End(v);
  if (load < end.force(0)) return refuse('topped_out');
  if (load > end.force(end.stroke)) return refuse('bottomed_out');
  const s = end.rest(load);
  const w = end.curve.travelAt(s);
  const rate = end.rate(s);
  return {
    travel: w,
    stroke: s,
    sag: w / end.curve.travel,
    shock_sag: s / end.curve.stroke,
    travel_low: end.curve.travelAt(end.rest(load, friction)),
    travel_high: end.curve.travelAt(end.rest(load, -friction)),
    wheel_rate: rate,
    frequency: Math.sqrt((Math.max(rate, 0) * g0) / load) / (2 * Math.PI),
  };
}

/** sag.reserve */
export function reserve(v) {
  const end = new End(v);
  const energy = end.law.energy(end.stroke);
  return { energy, drop_height: energy / v.load - end.travel, full_force: end.force(end.stroke) };
}

/** The stroke at which the wheel is at a sag. */
const strokeAtSag = (curve, sag) => curve.strokeAt(sag * curve.travel);

/** sag.rate */
export function rate({ curve, load, sag, preload = 0 }) {
  const stroke = strokeAtSag(curve, sag);
  const force = load * curve.ratioAt(stroke);
  return { rate: force / (stroke + preload), stroke, spring_force: force };
}

/** sag.fill */
export function fill({ curve, load, sag, airspring }, refuse, loadFrom = 'load') {
  const stroke = strokeAtSag(curve, sag);
  if (stroke > airspring.travel) return refuse('sag');
  const found = fillFor(airspring, load * curve.ratioAt(stroke), stroke);
  if (found.none) return refuse({ at: 'sag', force: loadFrom }[found.none]);
  return found;
}

/** The conditions of sag.correct. */
export function checkCorrect(input) {
  const v = input.values;
  if (input.given('airspring') && input.good('preload') && v.preload !== 0) input.refuse('preload');
  if (input.given('rate') && input.given('airspring')) input.refuse('rate');
  const spring = v.airspring ?? v.rate;
  if (!input.good('measured_stroke', 'curve') || spring === undefined) return;
  if (v.measured_stroke >= Math.min(v.curve.stroke, v.airspring?.travel ?? Infinity)) input.refuse('measured_stroke');
  else if (v.airspring && !(v.airspring.force(v.measured_stroke) > 0)) input.refuse('measured_stroke');
}

/** sag.correct */
export function correct(v, refuse) {
  const { curve, airspring, measured_stroke: s, preload = 0 } = v;
  const force = airspring ? airspring.force(s) : v.rate * (s + preload);
  const load = force / curve.ratioAt(s);
  if (!airspring) return { load, rate: rate({ ...v, load }).rate };
  return { load, fill: fill({ ...v, load, airspring: airspring.given }, refuse, 'measured_stroke')?.fill };
}

/** The conditions of sag.bands. */
export function checkBands(input) {
  const { rates, end, rear_share: q } = input.values;
  if (rates) {
    rates.forEach((k, i) => {
      if (i > 0 && !(k > rates[i - 1])) input.refuse(`rates[${i}]`);
    });
  }
  if (input.good('rear_share', 'end') && !(shareOf(end, q) >= 1e-6)) input.refuse('rear_share');
}

const shareOf = (end, rearShare) => (end === 'rear' ? rearShare : 1 - rearShare);

/** sag.bands */
export function bands(v, refuse) {
  const { curve, rates, preload = 0, end, rear_share, bike_mass, unsprung = 0, sag } = v;
  const target = sag * curve.travel;
  const force = (k, w) => {
    const s = curve.strokeAt(w);
    return (k * (s + preload)) / curve.ratioAt(s);
  };
  const rider = (load) => (load / g0 + unsprung) / shareOf(end, rear_share) - bike_mass;
  const ideal = rates.map((k) => rider(force(k, target)));
  const bad = ideal.map((M, i) => (M > 0 ? '' : `rates[${i}]`)).filter((name) => name !== '');
  const edges = rates.slice(1).map((harder, i) => {
    const softer = rates[i];
    const excess = (u) => force(softer, target + u) - force(harder, target - u);
    const most = Math.min(target, curve.travel - target);
    if (excess(most) < 0) return NaN;
    return rider(force(softer, target + root(excess, 0, most)));
  });
  edges.forEach((M, i) => {
    if (!(M > ideal[i] && M < ideal[i + 1])) bad.push(`rates[${i + 1}]`);
  });
  return bad.length > 0 ? refuse(...bad) : { ideal_mass: ideal, edge_mass: edges };
}

const hasScales = (input) => input.given('front_scale') || input.given('rear_scale');

/** The conditions of the form masses. */
export function checkMasses(input) {
  const v = input.values;
  if (hasScales(input)) {
    for (const name of ['rear_share', 'mass_centre_behind_front_axle']) if (input.given(name)) input.refuse(name);
    if (input.good('front_scale', 'rear_scale', 'bike_mass') && !(v.front_scale + v.rear_scale > v.bike_mass)) input.refuse('bike_mass');
  } else if (!input.given('rear_share') && !input.given('mass_centre_behind_front_axle')) {
    // Of the two that are missing one is named.
    input.excuse(input.given('wheelbase') ? 'rear_share' : 'mass_centre_behind_front_axle');
  } else if (input.given('rear_share') && input.given('mass_centre_behind_front_axle')) input.refuse('rear_share');
  if (input.good('mass_centre_behind_front_axle', 'wheelbase') && !(v.mass_centre_behind_front_axle < v.wheelbase)) input.refuse('mass_centre_behind_front_axle');
  if (input.given('mass_centre_height') && !input.given('wheelbase')) input.refuse('wheelbase');
  const rear = input.given('rear_wheel_radius') ? v.rear_wheel_radius : v.wheel_radius;
  if (input.good('chainstay_length', 'bottom_bracket_height') && rear !== undefined
    && !(v.chainstay_length > Math.abs(v.bottom_bracket_height - rear))) input.refuse('chainstay_length');
  if (!input.clean) return;
  const { front_load, rear_load } = loads(v);
  if (!(front_load > 0)) input.refuse('unsprung_front');
  if (!(rear_load > 0)) input.refuse('unsprung_rear');
}

/** The part of the weight on the rear wheel, and the mass of rider and bike. */
export function shareAndMass(v) {
  if (v.front_scale !== undefined) {
    const together = v.front_scale + v.rear_scale;
    return { q: v.rear_scale / together, mass: together };
  }
  return { q: v.rear_share ?? v.mass_centre_behind_front_axle / v.wheelbase, mass: v.rider_mass + v.bike_mass };
}

/** sag.loads */
export function loads(v) {
  const { q, mass } = shareAndMass(v);
  const front = (v.front_scale ?? (1 - q) * mass) * g0;
  const rear = (v.rear_scale ?? q * mass) * g0;
  return {
    front_load: front - (v.unsprung_front ?? 0) * g0,
    rear_load: rear - (v.unsprung_rear ?? 0) * g0,
    rear_share: q,
    front_wheel_load: front,
    rear_wheel_load: rear,
  };
}

/** sag.damping */
export function damping({ damping_ratio, wheel_rate, load }) {
  return { damping: 2 * damping_ratio * Math.sqrt((wheel_rate * load) / g0) };
}

/** The conditions of sag.implied. */
export function checkImplied(input) {
  const { curve, law, stroke: s, error: e } = input.values;
  if (!curve || !law || s === undefined) return;
  const end = new End({ curve, law });
  if (!(s < end.stroke)) input.refuse('stroke');
  else if (e !== undefined && !(e < Math.min(s, end.stroke - s))) input.refuse('error');
  else if (input.clean && !(law.force(s) > 0)) input.refuse('stroke');
}

/** sag.implied */
export function implied({ curve, law, stroke: s, error: e, friction: f = 0 }) {
  const load = (at, push) => (law.force(at) + push) / curve.ratioAt(at);
  return { load: load(s, 0), load_low: Math.max(load(s - e, -f), 0), load_high: load(s + e, f) };
}
