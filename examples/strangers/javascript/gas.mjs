// Gases: the standard atmosphere, sealed chambers elsewhere, p·Vⁿ, exchange of
// heat with the walls, and real gases by their equations of state.

import { expm1Over, integral, sum } from './numeric.mjs';

const g0 = 9.80665; // m/s²

/** airspring.atmosphere */
export function atmosphere({ altitude }) {
  const [T0, p0, lapse, M, R] = [288.15, 101325, 0.0065, 0.0289644, 8.31432];
  const T = T0 - lapse * altitude;
  return { pressure: p0 * (T / T0) ** ((g0 * M) / (R * lapse)), temperature: T };
}

const ambientOf = ({ altitude = 0 }) => atmosphere({ altitude }).pressure;

/** The condition of airspring.conditions. */
export function checkConditions(input) {
  const { fill = 0, from } = input.values;
  if (from && input.good('fill') && !(fill + ambientOf(from) > 0)) input.refuse('fill');
}

/** airspring.conditions */
export function conditions({ fill = 0, from, to }) {
  return { fill: ((fill + ambientOf(from)) * to.temperature) / from.temperature - ambientOf(to) };
}

/** airspring.polytropic */
export function polytropic({ pressure: p1, volume: V1, to_volume: V2, exponent: n }) {
  const l = Math.log(V1 / V2);
  return { pressure: p1 * (V1 / V2) ** n, work: p1 * V1 * l * expm1Over((n - 1) * l) };
}

/** The condition of airspring.heat. */
export function checkHeat(input) {
  const v = input.values;
  if (!input.given('amplitude')) return;
  const w = v.omega_tau ?? 0;
  if ((input.good('omega_tau') || !input.given('omega_tau')) && !(w >= 1e-6 && w <= 1e6)) input.refuse('omega_tau');
  if (input.clean && !(v.area * v.amplitude < 0.99 * v.volume)) input.refuse('amplitude');
}

/** airspring.heat */
export function heat({ area: A, volume: V, fill, ambient, heat_ratio: gamma, omega_tau: w = 0, amplitude: X }) {
  const p0 = fill + ambient;
  const slow = (A ** 2 * p0) / V;
  const loss = (slow * (gamma - 1) * w) / (1 + w * w);
  const answer = {
    isothermal_rate: slow,
    storage_rate: (slow * (1 + gamma * w * w)) / (1 + w * w),
    loss_rate: loss,
    loss_factor: ((gamma - 1) * w) / (1 + gamma * w * w),
  };
  if (X !== undefined) Object.assign(answer, { energy_small: Math.PI * X * X * loss }, loop(p0 * V, V, (A * X) / V, gamma, w));
  return answer;
}

/**
 * One cycle of V·(1 − a·sin φ), of a gas with p·V = pV at the walls' temperature.
 * y = p·V^γ obeys dy/dφ + y/w = (pV/w)·V^(γ−1): with the Fourier coefficients c_k
 * of the right-hand V^(γ−1), those of y are pV·c_k/(1 + i·k·w). They fall off
 * geometrically, as do the errors of sums over evenly spaced phases.
 */
function loop(pV, V, a, gamma, w) {
  const count = 2048;
  const harmonics = 512;
  const phases = Array.from({ length: count }, (_, j) => (2 * Math.PI * j) / count);
  const cosine = phases.map(Math.cos);
  const sine = phases.map(Math.sin);
  // Volumes are in units of V from here on.
  const volume = sine.map((s) => 1 - a * s);
  // V^(γ−1) − 1: the 1 is the coefficient of k = 0 alone.
  const forcing = volume.map((v) => Math.expm1((gamma - 1) * Math.log(v)));
  // y = base + rest, where the base alone loses nothing: at small w that of the
  // walls' temperature, at large w a constant.
  const isSlow = w < 1;
  const rest = new Array(count).fill(0);
  const mean = sum(forcing) / count;
  for (let k = 1; k <= harmonics; k++) {
    let re = 0, im = 0;
    for (let j = 0; j < count; j++) {
      const at = (j * k) % count;
      re += forcing[j] * cosine[at];
      im -= forcing[j] * sine[at];
    }
    re *= 2 / count;
    im *= 2 / count;
    // times 1/(1 + ikw), of which the slow base has taken 1
    const size = 1 + k * k * w * w;
    const [fr, fi] = isSlow ? [(-k * k * w * w) / size, (-k * w) / size] : [1 / size, (-k * w) / size];
    const [yr, yi] = [re * fr - im * fi, re * fi + im * fr];
    for (let j = 0; j < count; j++) {
      const at = (j * k) % count;
      rest[j] += yr * cosine[at] - yi * sine[at];
    }
  }
  const base = (j) => (isSlow ? 1 + forcing[j] : 1 + mean);
  const energy = sum(phases.map((_, j) => (rest[j] / volume[j] ** gamma) * a * cosine[j])) * ((2 * Math.PI) / count);
  const pressure = [0, 1, 2, 3].map((quarter) => {
    const j = (quarter * count) / 4;
    return (pV / V) * (base(j) + rest[j]) / volume[j] ** gamma;
  });
  return { energy_lost: pV * energy, pressure };
}

/** The conditions of airspring.hold. */
export function checkHold(input) {
  const { after, ramp } = input.values;
  if (!after || ramp === undefined) return;
  const first = after.findIndex((t) => t > 1e6);
  if (first >= 0) input.refuse(`after[${first}]`);
}

/** airspring.hold */
export function hold({ volume: V1, to_volume: V2, fill, ambient, heat_ratio: gamma, time_constant: tau, ramp, after = [] }) {
  const p1 = fill + ambient;
  const slow = (p1 * V1) / V2;
  if (ramp === undefined) {
    const fast = p1 * (V1 / V2) ** gamma;
    return { pressure: after.map((t) => slow + (fast - slow) * Math.exp(-t / tau)) };
  }
  // With the ratio z = T/T_w: y = p·V^γ relaxes to p₁·V₁·V^(γ−1); volumes in V₁.
  const end = V2 / V1;
  const volume = (s) => 1 + (end - 1) * Math.min(s / ramp, 1);
  const y = (t) => {
    const last = Math.min(t, ramp);
    // Beyond 60 time constants the past is forgotten.
    const first = Math.max(0, last - 60 * tau);
    const past = integral((s) => Math.exp(-(last - s) / tau) * volume(s) ** (gamma - 1) / tau, first, last);
    const ramped = Math.exp(-last / tau) + past;
    if (t <= ramp) return ramped;
    const left = Math.exp(-(t - ramp) / tau);
    return ramped * left - end ** (gamma - 1) * Math.expm1(-(t - ramp) / tau);
  };
  return { pressure: after.map((t) => p1 * y(t) / volume(t) ** gamma) };
}

