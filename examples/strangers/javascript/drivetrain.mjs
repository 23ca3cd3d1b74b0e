// Chain and brake of a suspension: the tight run over its pulleys, and the share
// of the load transfer that its pull and the brake's take up.

import { dot, subtract } from './mechanism.mjs';
import { clamp } from './numeric.mjs';
import { fault } from './reader.mjs';

const pitch = 12.7e-3; // m, of the chain
const samples = 64; // of the stroke, at which the geometry is checked

const pitchRadius = (teeth) => pitch / (2 * Math.sin(Math.PI / teeth));

/** The line that touches two circles below or above: its direction and length. */
function tangent(from, to, k) {
  const d = subtract(to, from);
  const square = dot(d, d);
  const length = Math.sqrt(square - k * k);
  return { length, u: [(length * d[0] + k * d[1]) / square, (length * d[1] - k * d[0]) / square] };
}

/** Drivetrain is a mechanism with chain, brake, wheels and mass centre. */
class Drivetrain {
  constructor(v) {
    const { mechanism: m, drivetrain: { chainring, sprocket, idler, chainring_at = [0, 0], chainring_on = 'frame' } } = v;
    this.m = m;
    this.R = v.wheel_radius;
    this.Rf = v.front_wheel_radius ?? v.wheel_radius;
    this.isLevel = v.ground === 'level';
    this.caliper = m.holeAt(v.brake_on ?? m.carrier, [0, 0]);
    // The pulleys that the run passes, from the sprocket on.
    this.pulleys = [{ hole: m.axle, r: pitchRadius(sprocket) }];
    if (idler) this.pulleys.push({ hole: m.holeAt(idler.on, idler.at), r: pitchRadius(idler.teeth) });
    this.pulleys.push({ hole: m.holeAt(chainring_on, chainring_at), r: pitchRadius(chainring) });
    const start = m.axleAt(0).at;
    this.frontAxle = [v.front_axle_x ?? 0, start[1] - this.R + this.Rf];
    this.massCentre = [v.mass_centre[0], start[1] - this.R + v.mass_centre[1]];
  }

  /** Motions of the pulleys at a stroke, and the runs between them. */
  chain(s) {
    const moved = this.pulleys.map(({ hole, r }) => ({ ...this.m.motion(hole, s), r }));
    const runs = moved.slice(1).map((to, i) => ({ from: moved[i], to, ...tangent(moved[i].at, to.at, moved[i].r - to.r) }));
    return { moved, runs };
  }

  /** The ground at a stroke, as seen from the rear axle. */
  ground(s) {
    const { at } = this.m.axleAt(s);
    const d = subtract(this.frontAxle, at);
    const k = this.Rf - this.R;
    const { length, u } = this.isLevel ? { length: d[0], u: [1, 0] } : tangent(at, this.frontAxle, k);
    const n = [-u[1], u[0]];
    return { t: u, n, b: length, h: dot(subtract(this.massCentre, at), n) + this.R, ahead: d[0], exists: this.isLevel || dot(d, d) > k * k };
  }

  /** The share of the load transfer of a force at a ground contact that turns by spin. */
  share(s, spin) {
    const { t, n, b, h } = this.ground(s);
    const { velocity } = this.m.axleAt(s);
    const U = [velocity[0] + this.R * spin * t[0], velocity[1] + this.R * spin * t[1]];
    return ((-dot(U, t) / dot(U, n)) * b) / h;
  }

  /** How the sprocket turns per stroke with the chainring held on its body. */
  driveSpin(s) {
    const { moved, runs } = this.chain(s);
    const ring = moved.at(-1);
    const pull = runs.reduce((sum, { from, to, u }) => sum + dot(subtract(from.velocity, to.velocity), u), ring.r * ring.spin);
    return pull / moved[0].r;
  }

  /** How much longer the tight run is than at full extension, its wraps included. */
  growth(s) {
    const [now, start] = [this.chain(s), this.chain(0)];
    const ring = now.moved.at(-1);
    return now.runs.reduce((sum, run, i) => {
      const before = start.runs[i];
      const turn = angleBetween(before.u, run.u);
      return sum + run.length - before.length + (run.to.r - run.from.r) * turn;
    }, -ring.r * ring.turn);
  }

  /** The fields that the geometry somewhere in the stroke refuses. */
  get faults() {
    const bad = new Set();
    for (let i = 0; i <= samples; i++) {
      const s = (this.m.stroke * i) / samples;
      const { moved } = this.chain(s);
      moved.slice(1).forEach((to, k) => {
        if (!(Math.hypot(...subtract(to.at, moved[k].at)) > to.r + moved[k].r)) bad.add('drivetrain');
      });
      const { exists, ahead, n, h } = this.ground(s);
      if (!(ahead > this.R)) bad.add('front_axle_x');
      else if (!exists) bad.add('front_wheel_radius');
      else {
        if (!(dot(this.m.axleAt(s).velocity, n) > 0)) bad.add('front_axle_x');
        if (!(h > 0)) bad.add('mass_centre[1]');
      }
    }
    return [...bad];
  }
}

// angleBetween is the turn from one direction to another, up to half a turn.
const angleBetween = (a, b) => Math.atan2(a[0] * b[1] - a[1] * b[0], dot(a, b));

/** The conditions of linkage.drivetrain. */
export function checkDrivetrain(input) {
  const v = input.values;
  const { mechanism, drivetrain, mass_centre, brake_on } = v;
  if (input.given('mechanism') && !mechanism) return input.refuseOnlyWithin('mechanism');
  const isBody = (name) => mechanism.given.bodies.has(name);
  if (mechanism && brake_on !== undefined && !isBody(brake_on)) input.refuse('brake_on');
  if (mechanism && drivetrain) {
    if (drivetrain.idler && !isBody(drivetrain.idler.on)) input.refuse('drivetrain.idler.on');
    if (!isBody(drivetrain.chainring_on ?? 'frame')) input.refuse('drivetrain.chainring_on');
  }
  if (mass_centre) {
    const [x, height] = mass_centre;
    if (!(Math.abs(x) <= 10)) input.refuse('mass_centre[0]', fault.range);
    if (!(height >= 1e-6 && height <= 10)) input.refuse('mass_centre[1]', fault.range);
  }
  if (!input.clean) return;
  for (const name of new Drivetrain(v).faults) input.refuse(name);
}

/** linkage.drivetrain */
export function drivetrain(v) {
  const d = new Drivetrain(v);
  const { m, R } = d;
  const at = (v.at ?? []).map((s) => clamp(s, 0, m.stroke));
  const [sprocket, ring] = [d.pulleys[0].r, d.pulleys.at(-1).r];
  const startX = m.axleAt(0).at[0];
  const growth = at.map((s) => d.growth(s));
  return {
    anti_squat: at.map((s) => d.share(s, d.driveSpin(s))),
    anti_rise: at.map((s) => d.share(s, m.motion(d.caliper, s).spin)),
    chain_growth: growth,
    kickback_wheel_fixed: growth.map((g) => g / ring),
    kickback_wheel_rolling: at.map((s, i) => growth[i] / ring - ((m.axleAt(s).at[0] - startX) * sprocket) / (R * ring)),
  };
}
