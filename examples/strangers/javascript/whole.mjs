// The whole bike at rest on both wheels, level or on a slope, braked or driven.

import { g0, shareAndMass } from './bike.mjs';
import { add, dot, subtract } from './mechanism.mjs';
import { root } from './numeric.mjs';

/** Bike is what stands, in frame coordinates at full extension on level ground. */
class Bike {
  constructor(v) {
    const { front, rear, wheelbase: L, mass_centre_height: H, slope = 0 } = v;
    Object.assign(this, { front, rear, L });
    const { q, mass: M } = shareAndMass(v);
    this.M = M;
    this.mf = v.unsprung_front ?? 0;
    this.mr = v.unsprung_rear ?? 0;
    this.ms = M - this.mf - this.mr;
    this.c = [(((1 - q) * M - this.mf) * L) / this.ms, H];
    this.Rf = v.front_wheel_radius ?? v.wheel_radius;
    this.Rr = v.rear_wheel_radius ?? v.wheel_radius;
    this.cos = Math.cos(slope);
    this.Tf = -(v.front_braking ?? 0) * M * g0;
    this.Tr = ((v.driving ?? 0) - (v.rear_braking ?? 0)) * M * g0;
    this.tau = -(this.Tf + this.Tr) / (M * g0);
  }

  /** Ground and loads of both wheels with the ends at these strokes. */
  stand(sf, sr) {
    const af = add([this.L, this.Rf], this.front.curve.moveAt(sf));
    const ar = add([0, this.Rr], this.rear.curve.moveAt(sr));
    const d = subtract(af, ar);
    const beta = Math.atan2(d[1], d[0]) - Math.asin((this.Rf - this.Rr) / Math.hypot(...d));
    const t = [Math.cos(beta), Math.sin(beta)];
    const n = [-t[1], t[0]];
    const D = dot(t, d);
    const toCentre = subtract(this.c, ar);
    const Y = this.Rr + dot(n, toCentre);
    const { ms, mf, mr, cos, tau } = this;
    const Nf = (g0 * (cos * (ms * dot(t, toCentre) + mf * D) + tau * (ms * Y + mf * this.Rf + mr * this.Rr))) / D;
    return { ar, beta, t, n, D, Nf, Nr: this.M * g0 * cos - Nf };
  }

  // What a spring pushes more than it must carry, at the front or the rear.
  #spareFront(sf, sr) {
    const { t, n, Nf } = this.stand(sf, sr);
    return this.front.law.force(sf) - this.#carried(Nf, this.Tf, this.mf, t, n, this.front.curve.directionAt(sf));
  }

  #spareRear(sf, sr) {
    const { t, n, Nr } = this.stand(sf, sr);
    return this.rear.law.force(sr) - this.#carried(Nr, this.Tr, this.mr, t, n, this.rear.curve.directionAt(sr));
  }

  #carried(N, T, m, t, n, direction) {
    return (N - m * g0 * this.cos) * dot(n, direction) + (T + m * g0 * this.tau) * dot(t, direction);
  }

  // The rest of one end, or its stop.
  static #rest(spare, end) {
    if (spare(0) >= 0) return 0;
    return spare(end) <= 0 ? end : root(spare, 0, end);
  }

  /** The strokes at which both ends rest. */
  get rest() {
    const rearFor = (sf) => Bike.#rest((sr) => this.#spareRear(sf, sr), this.rear.stroke);
    const sf = Bike.#rest((s) => this.#spareFront(s, rearFor(s)), this.front.stroke);
    return { sf, sr: rearFor(sf) };
  }
}

/** The conditions of sag.whole. */
export function checkWhole(input) {
  const areBoth = input.given('front_wheel_radius') && input.given('rear_wheel_radius');
  if (!input.given('wheel_radius') && !areBoth) {
    for (const name of ['wheel_radius', 'front_wheel_radius', 'rear_wheel_radius']) input.excuse(name);
    input.refuse('wheel_radius');
  }
  if (input.given('front_scale') || input.given('rear_scale')) input.refuse('front_scale');
}

/** sag.whole */
export function whole(v, refuse) {
  const bike = new Bike(v);
  const { sf, sr } = bike.rest;
  const { ar, beta, n, D, Nf, Nr } = bike.stand(sf, sr);
  if (!(Nf > 0 && Nr > 0)) {
    const pushes = ['front_braking', 'rear_braking', 'driving'].map((name) => [name, v[name] ?? 0]);
    const [greatest, size] = pushes.reduce((most, next) => (next[1] > most[1] ? next : most));
    return refuse(size > 0 ? greatest : 'mass_centre_height');
  }
  const pitch = -beta;
  const wf = v.front.curve.travelAt(sf);
  const wr = v.rear.curve.travelAt(sr);
  const answer = {
    front_sag: wf / v.front.curve.travel,
    rear_sag: wr / v.rear.curve.travel,
    pitch,
    rear_share: Nr / (Nf + Nr),
    wheelbase: D,
    front_wheel_load: Nf,
    rear_wheel_load: Nr,
    front_travel: wf,
    rear_travel: wr,
  };
  const { headAngle } = v.front.curve;
  if (headAngle !== undefined) {
    const psi = headAngle - pitch;
    answer.head_angle = psi;
    if (v.fork_offset !== undefined) answer.trail = (bike.Rf * Math.cos(psi) - v.fork_offset) / Math.sin(psi);
  }
  const { bottom_bracket_height: Hb, chainstay_length: l } = v;
  if (Hb !== undefined && l !== undefined) {
    const bracket = [Math.sqrt(l ** 2 - (Hb - bike.Rr) ** 2), Hb];
    answer.bottom_bracket_height = bike.Rr + dot(n, subtract(bracket, ar));
  }
  return answer;
}
