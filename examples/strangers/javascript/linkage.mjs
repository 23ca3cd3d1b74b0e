// Suspensions by their points: what is refused of them, how the wheel moves, the
// forces in their pivots, and what a hole off its place does.

import { add, bodiesOfPoints, dot, extentOf, Mechanism, subtract, turnLeft } from './mechanism.mjs';
import { clamp, integral } from './numeric.mjs';

/** The conditions of the form mechanism. */
export function checkMechanism(input) {
  const v = input.values;
  const { points, bodies } = v;
  const isMissing = !input.given('points');
  const names = isMissing ? new Map() : points;
  if (points && !(points.size >= 1 && points.size <= 1000)) input.refuse('points');
  let isNamed = points !== undefined && bodies !== undefined;
  if (bodies) {
    if (!bodies.has('frame') || bodies.size < 2 || bodies.size > 13) {
      input.refuse('bodies');
      isNamed = false;
    }
    for (const [name, list] of bodies) {
      const bad = list.findIndex((point, i) => (names && !names.has(point)) || list.indexOf(point) < i);
      if (bad >= 0) {
        input.refuse(`bodies.${name}[${bad}]`);
        isNamed = false;
      }
    }
  }
  if (isNamed) checkJoined(input, points, bodies);
  if (input.clean) {
    const mechanism = new Mechanism(v);
    if (!mechanism.isFree) input.refuseNameless('locks');
    else if (!mechanism.isDriven) input.refuse('axle');
    else if (!mechanism.hasRatios) input.refuseNameless('locks');
  }
}

// checkJoined checks what is said of bodies by the names of their points.
function checkJoined(input, points, bodies) {
  const { axle, carrier, shock, slots, stroke } = input.values;
  const owners = bodiesOfPoints({ bodies });
  const of = (point) => owners.get(point) ?? [];
  const areSlotsGood = checkSlots(input, points, bodies, of);

  if (areSlotsGood) {
    // Bodies joined to the frame by chains of points and slots.
    const joined = new Set(['frame']);
    for (let before = 0; before < joined.size;) {
      before = joined.size;
      for (const list of owners.values()) if (list.some((b) => joined.has(b))) list.forEach((b) => joined.add(b));
      for (const { point, on } of slots ?? []) {
        const both = [...of(point), on];
        if (both.some((b) => joined.has(b))) both.forEach((b) => joined.add(b));
      }
    }
    const pivots = [...owners.values()].reduce((count, list) => count + list.length - 1, 0);
    const freedoms = 3 * (bodies.size - 1) - 2 * pivots - (slots ?? []).length;
    if (joined.size < bodies.size || freedoms !== 1) input.refuse('bodies');
  }

  if (axle !== undefined) {
    if (of(axle).length === 0 || of(axle).every((body) => body === 'frame')) input.refuse('axle');
    else if (carrier !== undefined ? !of(axle).includes(carrier) || carrier === 'frame' : of(axle).length > 1) {
      if (of(axle).includes('frame')) input.refuse('axle');
      else input.refuse('carrier');
    } else if (of(axle).includes('frame')) input.refuse('axle');
  }
  if (shock !== undefined) {
    const [one, two] = shock;
    const bad = shock.findIndex((eye) => of(eye).length === 0);
    if (bad >= 0) return input.refuse('shock');
    const length = Math.hypot(...subtract(points.get(one), points.get(two)));
    if (length === 0 || of(one).some((body) => of(two).includes(body))) input.refuse('shock');
    else if (stroke !== undefined && !(stroke < length)) input.refuse('stroke');
  }
}

function checkSlots(input, points, bodies, of) {
  const { slots } = input.values;
  if (!slots) return !input.given('slots');
  if (slots.length > 36) {
    input.refuse('slots');
    return false;
  }
  const extent = extentOf(points);
  let areGood = true;
  slots.forEach(({ point, on, along: [from, to] }, i) => {
    const refuse = (name) => {
      input.refuse(`slots[${i}].${name}`);
      areGood = false;
    };
    const isPoint = of(point).length > 0 && !of(point).includes(on);
    if (!isPoint) refuse('point');
    if (!bodies.has(on)) return refuse('on');
    const line = bodies.get(on).includes(from) && bodies.get(on).includes(to) ? subtract(points.get(to), points.get(from)) : [0, 0];
    const length = Math.hypot(...line);
    if (length === 0) return refuse('along');
    const off = isPoint ? Math.abs(dot(turnLeft(line), subtract(points.get(point), points.get(from)))) / length : 0;
    if (off > 1e-9 * extent) refuse('point');
  });
  return areGood;
}

/** linkage.mechanism */
export function motion({ mechanism: m, at: strokes = [] }) {
  const at = strokes.map((s) => clamp(s, 0, m.stroke));
  const axles = at.map((s) => m.axleAt(s));
  const centres = at.map((s) => m.instantCentre(s));
  const start = Math.hypot(...m.axleAt(0).at);
  const [first, last] = [m.ratioAt(0), m.ratioAt(m.stroke)];
  return {
    axle_x: axles.map((a) => a.at[0]),
    axle_y: axles.map((a) => a.at[1]),
    travel: at.map((s) => m.travelAt(s)),
    lever_ratio: axles.map((a) => a.velocity[1]),
    lever_ratio_slope: axles.map((a) => a.acceleration[1]),
    path_length: at.map((s) => integral((to) => Math.hypot(...m.axleAt(to).velocity), 0, s)),
    axle_growth: axles.map((a) => Math.hypot(...a.at) - start),
    instant_centre_x: centres.map(([x]) => x),
    instant_centre_y: centres.map(([, y]) => y),
    progression: (first - last) / first,
  };
}

/** The conditions of linkage.joints. */
export function checkJoint(input) {
  const { mechanism, joint } = input.values;
  if (input.given('mechanism') && !mechanism) return input.refuseOnlyWithin('mechanism');
  if (mechanism && joint !== undefined && bodiesOfPoints(mechanism.given).get(joint)?.length !== 2) input.refuse('joint');
}

/** linkage.joints */
export function joints({ mechanism: m, wheel_force: load, joint, at: strokes = [] }) {
  const [first, second] = bodiesOfPoints(m.given).get(joint);
  const at = strokes.map((s) => clamp(s, 0, m.stroke));
  const turn = (body, s) => m.motion(m.holeAt(body, [0, 0]), s).turn;
  const forces = at.map((s) => {
    const { pivots, shock } = m.forces(s, load);
    const eye = shock.find(({ hole }) => hole.name === joint && hole.body === m.names.indexOf(first));
    return eye ? add(pivots.get(joint), eye.force) : pivots.get(joint);
  });
  return {
    shock_force: at.map((s) => load * m.ratioAt(s)),
    joint_force: forces.map((F) => Math.hypot(...F)),
    joint_angle: forces.map(([x, y]) => Math.atan2(y, x)),
    joint_turn: at.map((s) => turn(second, s) - turn(first, s)),
  };
}

/** The conditions of linkage.sensitivity. */
export function checkSensitivity(input) {
  const { mechanism, body, point } = input.values;
  if (input.given('mechanism') && !mechanism) return input.refuseOnlyWithin('mechanism');
  if (!mechanism) return;
  const { bodies } = mechanism.given;
  if (body !== undefined && !bodies.has(body)) input.refuse('body');
  else if (body !== undefined && point !== undefined && !bodies.get(body).includes(point)) input.refuse('point');
}

/** linkage.sensitivity */
export function sensitivity({ mechanism: m, body, point, at: strokes = [] }) {
  const changes = strokes.map((s) => m.byHole(body, point, clamp(s, 0, m.stroke)));
  return {
    lever_ratio_per_x: changes.map(({ ratio }) => ratio[0]),
    lever_ratio_per_y: changes.map(({ ratio }) => ratio[1]),
    travel_per_x: changes.map(({ travel }) => travel[0]),
    travel_per_y: changes.map(({ travel }) => travel[1]),
  };
}
