// Planar mechanisms: rigid bodies joined by pivots, slots and the shock, moved
// from the pose that is drawn by shortening the shock.

import { isRatio } from './curve.mjs';
import { root, solve } from './numeric.mjs';

export const add = ([a, b], [c, d]) => [a + c, b + d];
export const subtract = ([a, b], [c, d]) => [a - c, b - d];
const scale = ([a, b], k) => [a * k, b * k];
export const dot = ([a, b], [c, d]) => a * c + b * d;
export const turnLeft = ([a, b]) => [-b, a];

const farthest = 1e6; // m, of an instant centre
const mostSteps = 64;

/**
 * Mechanism is a suspension. A pose has, of each moving body, the displacement
 * and the turn since the drawing; rates are its derivatives by the stroke.
 * Coordinates are divided by the mechanism's extent throughout this class.
 */
export class Mechanism {
  #equations = [];
  #path;

  constructor(given) {
    this.given = given;
    this.extent = extentOf(given.points);
    this.names = [...given.bodies.keys()].filter((name) => name !== 'frame');
    this.size = 3 * this.names.length;
    this.stroke = given.stroke;
    for (const [point, bodies] of bodiesOfPoints(given)) {
      for (const other of bodies.slice(1)) this.#addPivot(point, bodies[0], other);
    }
    for (const slot of given.slots ?? []) this.#addSlot(slot);
    const [one, two] = given.shock;
    const length = Math.hypot(...subtract(this.#drawn(one), this.#drawn(two))); // the shock keeps it
    const owners = bodiesOfPoints(given);
    this.#shock = { one: this.#holeOf(owners.get(one)[0], one), two: this.#holeOf(owners.get(two)[0], two), length };
    this.carrier = given.carrier ?? owners.get(given.axle)[0];
    this.axle = this.#holeOf(this.carrier, given.axle);
    this.isFree = this.#follow();
    if (this.isFree) this.travel = this.travelAt(this.stroke);
  }

  #shock;

  #drawn(name) { return scale(this.given.points.get(name), 1 / this.extent); }

  /** The place of a point in a body of the drawing: the body's index and where. */
  #holeOf(body, name) {
    return { body: this.names.indexOf(body), place: this.#drawn(name), name };
  }

  // A hole in a pose: where it is, its derivative by the body's turn, and the
  // acceleration that it has by the rates alone.
  #at({ body, place: [x, y] }, pose) {
    if (body < 0) return { at: [x, y], byTurn: [0, 0], turned: [0, 0] };
    const [u, v, angle] = pose.slice(3 * body, 3 * body + 3);
    const [c, s] = [Math.cos(angle), Math.sin(angle)];
    const turned = [c * x - s * y, s * x + c * y];
    return { at: [u + turned[0], v + turned[1]], byTurn: turnLeft(turned), turned };
  }

  #velocity({ body }, { byTurn }, rates) {
    if (body < 0) return [0, 0];
    return add(rates.slice(3 * body, 3 * body + 2), scale(byTurn, rates[3 * body + 2]));
  }

  #spin({ body }, rates) { return body < 0 ? 0 : rates[3 * body + 2]; }

  // An equation has a value; a gradient by the pose, which it adds to; what its
  // second derivative by the stroke is without the pose's own; and its holes, each
  // with the derivative of the value by the hole's place.
  #addPivot(point, first, second) {
    const one = this.#holeOf(first, point);
    const two = this.#holeOf(second, point);
    for (const axis of [0, 1]) {
      const unit = axis === 0 ? [1, 0] : [0, 1];
      this.#equations.push({
        holes: () => [[one, unit], [two, scale(unit, -1)]],
        pivot: { point, first, second, axis },
        value: (pose) => this.#at(one, pose).at[axis] - this.#at(two, pose).at[axis],
        gradient: (pose, row) => {
          this.#addForce(row, one, pose, unit);
          this.#addForce(row, two, pose, scale(unit, -1));
        },
        curvature: (pose, rates) =>
          this.#at(two, pose).turned[axis] * this.#spin(two, rates) ** 2 - this.#at(one, pose).turned[axis] * this.#spin(one, rates) ** 2,
      });
    }
  }

  // A force at a hole, as what it does to each coordinate of the pose.
  #addForce(row, hole, pose, force) {
    if (hole.body < 0) return;
    const i = 3 * hole.body;
    row[i] += force[0];
    row[i + 1] += force[1];
    row[i + 2] += dot(force, this.#at(hole, pose).byTurn);
  }

  #addSlot({ point, on, along }) {
    const owner = bodiesOfPoints(this.given).get(point).find((body) => body !== on);
    const pin = this.#holeOf(owner, point);
    const from = this.#holeOf(on, along[0]);
    const to = this.#holeOf(on, along[1]);
    const line = subtract(to.place, from.place);
    const normal = { body: from.body, place: scale(turnLeft(line), 1 / Math.hypot(...line)) };
    const state = (pose) => {
      const [p, a] = [this.#at(pin, pose), this.#at(from, pose)];
      const n = this.#at(normal, pose).turned;
      const N = normal.body < 0 ? normal.place : n;
      return { p, a, N, way: subtract(p.at, a.at) };
    };
    this.#equations.push({
      holes: (pose) => {
        // The pin's share of the way from one end of the line to the other.
        const { N, way } = state(pose);
        const share = -dot(turnLeft(N), way) / Math.hypot(...line);
        return [[pin, N], [from, scale(N, share - 1)], [to, scale(N, -share)]];
      },
      value: (pose) => {
        const { N, way } = state(pose);
        return dot(N, way);
      },
      gradient: (pose, row) => {
        const { N, way } = state(pose);
        this.#addForce(row, pin, pose, N);
        this.#addForce(row, from, pose, scale(N, -1));
        if (from.body >= 0) row[3 * from.body + 2] += dot(turnLeft(N), way);
      },
      curvature: (pose, rates) => {
        const { p, a, N, way } = state(pose);
        const spin = this.#spin(from, rates);
        const bend = subtract(scale(a.turned, spin ** 2), scale(p.turned, this.#spin(pin, rates) ** 2));
        const speed = subtract(this.#velocity(pin, p, rates), this.#velocity(from, a, rates));
        return dot(N, bend) + 2 * spin * dot(turnLeft(N), speed) - spin ** 2 * dot(N, way);
      },
    });
  }

  #shockState(pose) {
    const { one, two } = this.#shock;
    const [p, q] = [this.#at(one, pose), this.#at(two, pose)];
    return { p, q, way: subtract(p.at, q.at) };
  }

  // The equations in a pose: their values, the last of which is the shock's, and
  // the rows of their gradients.
  #system(pose, stroke) {
    const { one, two, length } = this.#shock;
    const { way } = this.#shockState(pose);
    const values = this.#equations.map((e) => e.value(pose));
    const rows = this.#equations.map((e) => {
      const row = new Array(this.size).fill(0);
      e.gradient(pose, row);
      return row;
    });
    // Along the shock, so that all rows are of one size.
    const last = new Array(this.size).fill(0);
    const distance = Math.hypot(...way);
    const along = scale(way, 1 / distance);
    this.#addForce(last, one, pose, along);
    this.#addForce(last, two, pose, scale(along, -1));
    return { values: [...values, distance - (length - stroke)], rows: [...rows, last] };
  }

  // Rates of a pose, and their rates.
  #rates(pose) {
    const { rows } = this.#system(pose, 0);
    const zeros = new Array(this.#equations.length).fill(0);
    const { x: rates, determinant } = solve(rows, [...zeros, -1]);
    if (!rates) return { determinant: 0 };
    const bends = this.#equations.map((e) => -e.curvature(pose, rates));
    const { one, two } = this.#shock;
    const { p, q, way } = this.#shockState(pose);
    const speed = subtract(this.#velocity(one, p, rates), this.#velocity(two, q, rates));
    const bend = subtract(scale(q.turned, this.#spin(two, rates) ** 2), scale(p.turned, this.#spin(one, rates) ** 2));
    // distance·distance″ + distance′² = way·way″ + speed², with distance′ = −1
    const last = -(dot(way, bend) + dot(speed, speed) - 1) / Math.hypot(...way);
    return { rates, bends: solve(rows, [...bends, last]).x, determinant };
  }

  // Newton's method from a guess; undefined where it does not converge.
  #assemble(guess, stroke) {
    let pose = guess;
    let before = Infinity;
    for (let i = 0; i < 12; i++) {
      const { values, rows } = this.#system(pose, stroke);
      const { x: step } = solve(rows, values);
      if (!step) return undefined;
      pose = pose.map((e, k) => e - step[k]);
      const size = Math.max(...step.map(Math.abs));
      if (!(size < 0.5)) return undefined;
      if (size < 1e-15 || (size < 1e-12 && size >= before)) return pose;
      before = size;
    }
    return before < 1e-11 ? pose : undefined;
  }

  // follow walks through the stroke, and reports whether the motion is unique; and
  // then whether the wheel is driven at the start, and all ratios are good.
  #follow() {
    const whole = this.stroke / this.extent;
    let pose = this.#assemble(new Array(this.size).fill(0), 0);
    if (!pose) return false;
    let at = 0, step = whole / mostSteps;
    let now = this.#rates(pose);
    if (!(Math.abs(now.determinant) > 1e-12)) return false;
    const sign = Math.sign(now.determinant);
    this.#path = [{ at, pose, ...now }];
    this.isDriven = this.#ratio(pose, now.rates) >= 0.001;
    this.hasRatios = isRatio(this.#ratio(pose, now.rates));
    while (at < whole) {
      const next = at + step > whole * (1 - 1e-12) ? whole : at + step;
      const h = next - at;
      const guess = pose.map((e, k) => e + h * now.rates[k] + (h * h * now.bends[k]) / 2);
      const found = this.#assemble(guess, next);
      const isNear = found && Math.max(...found.map((e, k) => Math.abs(e - guess[k]))) < 1e-3;
      const rates = isNear ? this.#rates(found) : undefined;
      if (!rates?.rates || Math.sign(rates.determinant) !== sign) {
        step = h / 2;
        if (step < whole * 1e-9) return false;
        continue;
      }
      this.hasRatios &&= isRatio(this.#ratio(found, rates.rates));
      [at, pose, now] = [next, found, rates];
      this.#path.push({ at, pose, ...now });
      step = Math.min(2 * h, whole / mostSteps);
    }
    return true;
  }

  #ratio(pose, rates) { return this.#velocity(this.axle, this.#at(this.axle, pose), rates)[1]; }

  #last = { stroke: NaN };

  /** The state at a stroke: pose, rates and bends. */
  state(stroke) {
    if (this.#last.stroke === stroke) return this.#last;
    const at = stroke / this.extent;
    const from = this.#path.findLast((p) => p.at <= at) ?? this.#path[0];
    const h = at - from.at;
    const guess = from.pose.map((e, k) => e + h * from.rates[k] + (h * h * from.bends[k]) / 2);
    const pose = this.#assemble(guess, at);
    this.#last = { stroke, pose, ...this.#rates(pose) };
    return this.#last;
  }

  /** Place, velocity and acceleration by the stroke of a hole, and its body's turn. */
  motion(hole, stroke) {
    const { pose, rates, bends } = this.state(stroke);
    const h = this.#at(hole, pose);
    const spin = this.#spin(hole, rates);
    const acceleration = subtract(this.#velocity(hole, h, bends), scale(h.turned, spin ** 2));
    return {
      at: scale(h.at, this.extent),
      velocity: this.#velocity(hole, h, rates),
      acceleration: scale(acceleration, 1 / this.extent),
      spin: spin / this.extent,
      turn: hole.body < 0 ? 0 : pose[3 * hole.body + 2],
    };
  }

  /** The hole of a body at a place of the drawing. */
  holeAt(body, place) { return { body: this.names.indexOf(body), place: scale(place, 1 / this.extent) }; }

  axleAt(stroke) { return this.motion(this.axle, stroke); }

  travelAt(s) { return this.axleAt(s).at[1] - this.axleAt(0).at[1]; }
  ratioAt(s) { return this.axleAt(s).velocity[1]; }
  slopeAt(s) { return this.axleAt(s).acceleration[1]; }
  moveAt(s) { return subtract(this.axleAt(s).at, this.axleAt(0).at); }
  directionAt(s) { return this.axleAt(s).velocity; }

  strokeAt(w) {
    if (w <= 0) return 0;
    if (w >= this.travel) return this.stroke;
    return root((s) => this.travelAt(s) - w, 0, this.stroke);
  }

  /** The instant centre of the body that carries the wheel, cut off far away. */
  instantCentre(s) {
    const { at, velocity, spin } = this.axleAt(s);
    const sign = spin < 0 ? -1 : 1;
    const distance = Math.min(Math.hypot(...velocity) / Math.abs(spin), farthest);
    return add(at, scale(turnLeft(velocity), (sign * distance) / Math.hypot(...velocity)));
  }

  // By virtual work, how much the axle rises per move of a hole along x and y of
  // its body, in a pose.
  #riseByHole(hole, pose) {
    const { rows } = this.#system(pose, 0);
    const forces = this.#balance(rows, pose, 1);
    const { one, two } = this.#shock;
    const { way } = this.#shockState(pose);
    const along = scale(way, 1 / Math.hypot(...way));
    const shock = [[one, along], [two, scale(along, -1)]];
    let total = [0, 0];
    [...this.#equations.map((e) => e.holes(pose)), shock].forEach((holes, k) => {
      for (const [h, force] of holes) if (isSame(h, hole)) total = add(total, scale(force, forces[k]));
    });
    if (isSame(this.axle, hole)) total = add(total, [0, 1]);
    const axes = [[1, 0], [0, 1]].map((place) => (hole.body < 0 ? place : this.#at({ body: hole.body, place }, pose).turned));
    return axes.map((axis) => dot(total, axis));
  }

  /** How travel and lever ratio at a stroke change by a hole's x and y in its body. */
  byHole(body, point, s) {
    const hole = this.#holeOf(body, point);
    const { pose, rates } = this.state(s);
    const start = this.#riseByHole(hole, this.state(0).pose);
    const rise = this.#riseByHole(hole, pose);
    // The change of the rise along the motion, by differences of tenth order.
    const step = 5e-3 / Math.max(...rates.map(Math.abs));
    const slope = [5 / 6, -5 / 21, 5 / 84, -5 / 504, 1 / 1260].map((weight, i) => {
      const [ahead, behind] = [1, -1].map((sign) =>
        this.#riseByHole(hole, pose.map((e, k) => e + sign * (i + 1) * step * rates[k])));
      return scale(subtract(ahead, behind), weight / (step * this.extent));
    }).reduce(add);
    return { travel: subtract(rise, start), ratio: slope };
  }

  // The forces of all equations under a force up at the axle.
  #balance(rows, pose, load) {
    const onBodies = new Array(this.size).fill(0);
    this.#addForce(onBodies, this.axle, pose, [0, load]);
    const transposed = rows.map((_, i) => rows.map((row) => row[i]));
    return solve(transposed, onBodies.map((e) => -e)).x;
  }

  /**
   * The forces that hold the mechanism under a force up at the axle: those of
   * each pivot on its first body, and the shock's, which pushes its eyes apart.
   */
  forces(s, load) {
    const { pose } = this.state(s);
    const { rows } = this.#system(pose, 0);
    const forces = this.#balance(rows, pose, load);
    const pivots = new Map();
    this.#equations.forEach(({ pivot }, i) => {
      if (!pivot) return;
      const force = pivots.get(pivot.point) ?? [0, 0];
      force[pivot.axis] = forces[i];
      pivots.set(pivot.point, force);
    });
    const { way } = this.#shockState(pose);
    const push = scale(way, forces.at(-1) / Math.hypot(...way));
    const { one, two } = this.#shock;
    return { pivots, shock: [{ hole: one, force: push }, { hole: two, force: scale(push, -1) }] };
  }
}

/** The diagonal of the box around all points. */
export function extentOf(points) {
  const all = [...points.values()];
  const span = (axis) => Math.max(...all.map((p) => p[axis])) - Math.min(...all.map((p) => p[axis]));
  return Math.hypot(span(0), span(1));
}

/** The bodies that each point belongs to, by their names in order. */
export function bodiesOfPoints({ bodies }) {
  const owners = new Map();
  for (const name of [...bodies.keys()].sort(byteOrder)) {
    for (const point of bodies.get(name)) owners.set(point, [...(owners.get(point) ?? []), name]);
  }
  return owners;
}

const isSame = (a, b) => a.body === b.body && a.name === b.name;

const byteOrder = (a, b) => Buffer.compare(Buffer.from(a), Buffer.from(b));
