// Air springs: p·Vⁿ in one chamber, with a negative chamber, with a second
// positive one; the fill that carries a force, and how a pump changes it.

import { Law, piece } from './law.mjs';
import { expm1Over, root } from './numeric.mjs';

const leastShare = 1e-9; // of the positive chamber that must be left
export const greatestFill = 1e8; // Pa

export const circle = (diameter) => (Math.PI * diameter ** 2) / 4;

// work is ∫ p dV from a volume V₀ at p₀ down to V along p·Vⁿ, done on the gas.
const work = (p0, V0, V, n) => {
  const l = Math.log(V0 / V);
  return p0 * V0 * l * expm1Over((n - 1) * l);
};

/** What is left of the positive chamber at full extension. */
const leftVolume = ({ positive_volume, oil_volume = 0, spacers = 0, spacer_volume = 0 }) =>
  positive_volume - oil_volume - spacers * spacer_volume;

/** The conditions of the form airspring. */
export function checkAirSpring(input) {
  const v = input.values;
  if (input.good('bore', 'shaft') && input.given('negative_volume') && !(v.shaft < v.bore)) input.refuse('shaft');
  if (input.good('port_travel', 'travel') && !(v.port_travel < v.travel)) input.refuse('port_travel');
  if (input.given('spacers') && v.spacers > 0 && v.spacer_volume === 0) input.refuse('spacer_volume');
  const optional = ['oil_volume', 'spacer_volume', 'spacers'].filter((name) => input.given(name));
  if (input.good('bore', 'travel', 'positive_volume', ...optional)) {
    const swept = circle(v.bore) * v.travel;
    const enough = (V0) => V0 > 0 && swept / V0 <= 1 - leastShare;
    if (!enough(leftVolume({ ...v, spacers: 0 }))) input.refuse('positive_volume');
    else if (!enough(leftVolume(v))) input.refuse('spacers');
  }
}

/** AirSpring is an air spring with its fill. */
export class AirSpring {
  constructor(given) {
    const { bore, shaft, travel, negative_volume, port_travel = 0, second_volume, second_fill, ambient, exponent, fill } = given;
    this.given = given;
    this.n = exponent;
    this.ambient = ambient;
    this.travel = travel;
    this.Ap = circle(bore);
    this.Vp0 = leftVolume(given);
    this.pf = fill + ambient;
    if (second_volume !== undefined) {
      this.V2 = second_volume;
      this.p2 = second_fill + ambient;
      this.opening = Math.max((this.Vp0 / this.Ap) * -Math.expm1(Math.log(this.pf / this.p2) / exponent), 0);
    }
    if (negative_volume !== undefined) {
      this.As = circle(shaft);
      this.An = this.Ap - this.As;
      this.Vn0 = negative_volume;
      this.pn0 = (this.#portPressure(port_travel) * this.Vn(port_travel)) / this.Vn0;
    }
  }

  Vp(x) { return this.Vp0 - this.Ap * x; }
  Vn(x) { return this.Vn0 + this.An * x; }

  /** The area that the ambient pressure presses on. */
  get outside() { return this.An === undefined ? this.Ap : this.As; }

  // The pressure at the port, passed slowly: isothermal.
  #portPressure(port) {
    const alone = (this.pf * this.Vp0) / this.Vp(port);
    if (this.V2 === undefined || alone < this.p2) return alone;
    return (this.Vp0 * this.pf + this.V2 * this.p2) / (this.Vp(port) + this.V2);
  }

  isOpen(x) { return this.V2 !== undefined && x >= this.opening; }

  // Of the gas that the piston compresses, open or not: its volume and pressure.
  #volume(x, open) { return this.Vp(x) + (open ? this.V2 : 0); }
  #pressure(x, open) {
    const { n } = this;
    if (!open) return this.pf * (this.Vp0 / this.Vp(x)) ** n;
    const mixed = this.Vp0 * this.pf ** (1 / n) + this.V2 * this.p2 ** (1 / n);
    return (mixed / this.#volume(x, true)) ** n;
  }

  positivePressure(x) { return this.#pressure(x, this.isOpen(x)); }
  negativePressure(x) { return this.pn0 * (this.Vn0 / this.Vn(x)) ** this.n; }

  #force(x, open) {
    const pull = this.An === undefined ? 0 : this.An * this.negativePressure(x);
    return this.Ap * this.#pressure(x, open) - pull - this.outside * this.ambient;
  }

  #rate(x, open) {
    const pull = this.An === undefined ? 0 : (this.An ** 2 * this.negativePressure(x)) / this.Vn(x);
    return this.n * ((this.Ap ** 2 * this.#pressure(x, open)) / this.#volume(x, open) + pull);
  }

  #energy(x, open) {
    const { n } = this;
    let E = -this.outside * this.ambient * x;
    if (!open) E += work(this.pf, this.Vp0, this.Vp(x), n);
    else {
      const from = this.opening;
      E += work(this.pf, this.Vp0, this.Vp(from), n);
      E += work(this.#pressure(from, true), this.#volume(from, true), this.#volume(x, true), n);
    }
    if (this.An !== undefined) E += work(this.pn0, this.Vn0, this.Vn(x), n);
    return E;
  }

  force(x) { return this.#force(x, this.isOpen(x)); }

  /** The spring as a law. */
  get law() {
    const part = (from, to, open) => piece({
      from, to,
      force: (x) => this.#force(x, open),
      rate: (x) => this.#rate(x, open),
      energy: (x) => this.#energy(x, open),
    });
    const { travel, opening = Infinity } = this;
    if (opening >= travel) return new Law([part(0, travel, false)]);
    if (opening === 0) return new Law([part(0, travel, true)]);
    return new Law([part(0, opening, false), part(opening, travel, true)]);
  }

  /** Where the spring rests without a load. */
  get rest() {
    if (this.force(0) >= 0) return 0;
    if (this.force(this.travel) < 0) return this.travel;
    return root((x) => this.force(x), 0, this.travel);
  }
}

/** airspring.law */
export function airSpringLaw(given) {
  const spring = new AirSpring(given);
  const { law } = spring;
  const at = (given.at ?? []).map((x) => Math.min(Math.max(x, 0), spring.travel));
  const answer = {
    force: at.map((x) => law.force(x)),
    rate: at.map((x) => law.rate(x)),
    energy: at.map((x) => law.energy(x)),
    positive_pressure: at.map((x) => spring.positivePressure(x)),
    rest_travel: spring.rest,
    compression_ratio: spring.Vp0 / spring.Vp(spring.travel),
  };
  if (spring.An !== undefined) answer.negative_pressure = at.map((x) => spring.negativePressure(x));
  if (spring.V2 !== undefined) answer.opening_travel = spring.opening;
  return answer;
}

/**
 * The fill with which a spring has a force at a travel, or none: 'at' where more
 * fill does not push harder, 'force' where no fill carries the force.
 */
export function fillFor(given, force, x) {
  // Without a second chamber force + outside·ambient is C times the absolute fill.
  const unit = new AirSpring({ ...given, second_volume: undefined, ambient: 0, fill: 1 });
  const C = unit.force(x);
  if (C <= 0) return { none: 'at' };
  if (given.second_volume === undefined) {
    const fill = (force + unit.outside * given.ambient) / C - given.ambient;
    return fill > 0 && fill <= greatestFill ? { fill } : { none: 'force' };
  }
  const missing = (fill) => new AirSpring({ ...given, fill }).force(x) - force;
  if (missing(0) >= 0 || missing(greatestFill) < 0) return { none: 'force' };
  return { fill: root(missing, 0, greatestFill) };
}

/** airspring.fill */
export function airSpringFill({ force, at = 0, ...given }, refuse) {
  const { fill, none } = fillFor(given, force, at);
  return none ? refuse(none) : { fill };
}

/** airspring.hose */
export function hose({ chamber_volume: V, hose_volume: Vh = 0, fill, reading }) {
  return fill !== undefined ? { reading: (fill * V) / (V + Vh) } : { fill: (reading * (V + Vh)) / V };
}

const mostCycles = 1000;

/** The conditions of airspring.topup. */
export function checkTopUp(input) {
  const v = input.values;
  if (input.good('bore', 'shaft') && !(v.shaft < v.bore)) input.refuse('shaft');
  if (input.good('pull_in') && (input.good('port_travel') || !input.given('port_travel')) && !(v.pull_in < (v.port_travel ?? 0))) input.refuse('pull_in');
  if (input.good('bore', 'positive_volume', 'port_travel')
    && (circle(v.bore) * v.port_travel) / v.positive_volume > 1 - leastShare) input.refuse('positive_volume');
}

/** airspring.topup */
export function topUp(given, refuse) {
  const { bore, shaft, positive_volume: Vp0, negative_volume: Vn0, port_travel: port = 0, old_fill = 0, fill, ambient, within } = given;
  const Ap = circle(bore);
  const As = circle(shaft);
  const An = Ap - As;
  const Vp = Vp0 - Ap * port;
  const Vn = Vn0 + An * port;
  const lowered = fill < old_fill;

  // Pressures of both chambers at full extension after cycling at a fill.
  const cycledNegative = (p) => ((p * Vp0) / Vp) * (Vn / Vn0);
  // Where the spring stands without a load.
  const stand = (pp, pn) => {
    const push = (x) => (Ap * pp * Vp0) / (Vp0 - Ap * x) - (An * pn * Vn0) / (Vn0 + An * x) - As * ambient;
    if (push(0) >= 0) return 0;
    return push(port) <= 0 ? port : root(push, 0, port);
  };

  let pp = old_fill + ambient;
  let pn = old_fill === 0 && !lowered ? ambient : cycledNegative(pp);
  let pullIn, least = () => -Infinity;
  if (lowered) {
    const last = stand(fill + ambient, cycledNegative(fill + ambient));
    if (given.pull_in !== undefined && !(given.pull_in > last)) return refuse('pull_in');
    pullIn = given.pull_in ?? last + 0.75 * (port - last);
    // Pulled in to there, the positive chamber can be let down to this.
    least = () => ((Vp0 - Ap * pullIn) / Vp0) * (((An * pn * Vn0) / (Vn0 + An * pullIn) + As * ambient) / Ap);
  }

  const answer = { cycles: 0, reading: [], negative_pressure: [], gauge: [], stands: [] };
  const step = () => {
    const x = lowered ? stand(pp, pn) : 0;
    answer.stands.push(x);
    answer.gauge.push((pp * Vp0) / (Vp0 - Ap * x) - ambient);
  };
  let reading = old_fill;
  do {
    if (answer.cycles === mostCycles) {
      if (!(lowered && least() > fill + ambient)) return refuse('within');
      return refuse(given.pull_in !== undefined ? 'pull_in' : 'fill');
    }
    if (reading !== fill) {
      pp = Math.max(fill + ambient, least());
      step();
    }
    const shared = (pp * Vp0 + pn * Vn0) / (Vp + Vn);
    pp = (shared * Vp) / Vp0;
    pn = (shared * Vn) / Vn0;
    reading = pp - ambient;
    answer.cycles++;
    answer.reading.push(reading);
    answer.negative_pressure.push(pn);
    step();
  } while (Math.abs(fill - reading) > within);
  if (lowered) answer.pull_in = pullIn;
  return answer;
}

/** The conditions of airspring.fill. */
export function checkFill(input) {
  const v = input.values;
  if (input.good('fill') && v.fill !== 0) input.refuse('fill');
  if (input.good('at', 'travel') && v.at > v.travel) input.refuse('at');
}
