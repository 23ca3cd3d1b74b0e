// Helical springs of round wire: dimensions, stresses, what was measured on them,
// and the materials of their wire.

import { readFileSync } from 'node:fs';
import { join } from 'node:path';
import { sum } from './numeric.mjs';

const slack = 1e-12; // relative, of the bounds of a scope

const ends = {
  plain: { dead: 0, over: 1, ground: 0, wires: 1 },
  plain_ground: { dead: 1, over: 0, ground: 1, wires: 0 },
  squared: { dead: 2, over: 1, ground: 0, wires: 3 },
  squared_ground: { dead: 2, over: 0, ground: 0, wires: 2 },
};

/** Materials are those of materials.json. */
export class Materials {
  #materials;
  #parse;

  constructor(directory, description) {
    this.#materials = JSON.parse(readFileSync(join(directory, 'materials.json'), 'utf8')).materials;
    this.#parse = (kind, text) => description.parse(kind, text);
  }

  find(name) {
    const key = (text) => text.toLowerCase().replace(/[^\p{L}\p{N}]/gu, '');
    return this.#materials.find((m) => [m.name, ...(m.aliases ?? [])].some((n) => key(n) === key(name)));
  }

  #bounds(row) {
    const length = (text, none) => (text === undefined ? none : this.#parse('length', text));
    return { from: length(row.wire_from, -Infinity), to: length(row.wire_to, Infinity) };
  }

  /** G, E and density for a diameter of wire, undefined outside the rows. */
  moduli(material, d) {
    const row = material.moduli.rows.find((r) => {
      const { from, to } = this.#bounds(r);
      return from < d && d <= to;
    });
    if (!row) return undefined;
    const stress = (entry) => (entry ? this.#parse('stress', entry.value) : undefined);
    return {
      G: stress(row.shear_modulus),
      E: stress(row.elastic_modulus),
      density: material.density ? this.#parse('density', material.density.value) : undefined,
    };
  }

  /** The least tensile strength at a diameter, undefined outside the rows. */
  strength({ strength: { form, rows } }, d) {
    const row = rows.find((r) => {
      const { from, to } = this.#bounds(r);
      return from <= d && d <= to;
    });
    if (!row) return undefined;
    const mm = d / 1e-3;
    const stress = (entry) => this.#parse('stress', entry.value);
    if (form === 'power') return stress(row.at_1_mm) / mm ** Number(row.exponent.value ?? row.exponent);
    const value = stress(row.at_1_mm) - stress(row.per_decade) * Math.log10(mm);
    return row.cap ? Math.min(value, stress(row.cap)) : value;
  }
}

/** The conditions of spring.strength; an unknown material hides a bad diameter. */
export function checkStrength(input, materials) {
  const { material: name, wire_diameter: d } = input.values;
  if (name === undefined) return;
  const material = materials.find(name);
  if (!material?.strength) input.refuseAlone('material');
  else if (d !== undefined && materials.strength(material, d) === undefined) input.refuse('wire_diameter');
}

export function strength({ material, wire_diameter }, materials) {
  return { tensile_strength: materials.strength(materials.find(material), wire_diameter) };
}

/** spring.warm */
export function warm({ shear_modulus: G, coefficient: r = 0, temperature: T }, refuse) {
  const warmed = G * (1 - r * (T - 293.15));
  return warmed > 0 ? { shear_modulus: warmed } : refuse('temperature');
}

/** The wire diameter of a coil and its D, whichever diameter was given. */
const meanDiameter = ({ wire_diameter: d, mean_diameter, outer_diameter, inner_diameter }) =>
  mean_diameter ?? (outer_diameter !== undefined ? outer_diameter - d : inner_diameter + d);

const coilRate = (G, d, D, n) => (G * d ** 4) / (8 * D ** 3 * n);

/** dimensions are d, D, n, N and the lengths that follow from them. */
function dimensions(v) {
  const d = v.wire_diameter;
  const D = meanDiameter(v);
  const end = ends[v.ends ?? 'squared_ground'];
  const n = v.active_coils ?? v.total_coils - end.dead;
  const N = v.total_coils ?? v.active_coils + end.dead;
  return { d, D, end, n, N, solidLength: (N + end.over) * d };
}

/** The conditions of the form coil. */
export function checkCoil(input, materials) {
  const v = input.values;
  const diameter = ['mean_diameter', 'outer_diameter', 'inner_diameter'].find((name) => input.good(name));
  if (diameter && input.good('wire_diameter') && !(meanDiameter(v) > v.wire_diameter)) input.refuse('wire_diameter');
  const knownEnds = input.good('ends') || !input.given('ends');
  if (knownEnds && input.good('total_coils') && !(v.total_coils - ends[v.ends ?? 'squared_ground'].dead >= 0.001)) input.refuse('total_coils');
  let G = v.shear_modulus;
  let E = v.elastic_modulus;
  if (v.material !== undefined) {
    const material = materials.find(v.material);
    if (!material?.moduli) input.refuse('material');
    else if (input.good('wire_diameter')) {
      const moduli = materials.moduli(material, v.wire_diameter);
      if (!moduli) input.refuse('wire_diameter');
      else {
        G ??= moduli.G;
        if (!input.given('elastic_modulus')) E = moduli.E;
      }
    }
  }
  if (v.elastic_modulus !== undefined && G !== undefined && !(E > G)) input.refuse('elastic_modulus');
  if (input.clean && input.good('free_length') && !(v.free_length > dimensions(v).solidLength)) input.refuse('free_length');
}

/** The conditions of the form coil_installed. */
export function checkInstalledCoil(input) {
  const v = input.values;
  if (!input.clean) return;
  if (!((v.preload ?? 0) < v.free_length - dimensions(v).solidLength)) input.refuse('preload');
}

/** The modulus, rate and travel of an installed coil, as those of a linear law. */
export function installedCoil(v, materials) {
  const { d, D, n, solidLength } = dimensions(v);
  const G = v.shear_modulus ?? materials.moduli(materials.find(v.material), d).G;
  const preload = v.preload ?? 0;
  return { rate: coilRate(G, d, D, n), preload, travel: v.free_length - solidLength - preload };
}

/** spring.coil */
export function coil(v, materials) {
  const { d, D, end, n, N, solidLength } = dimensions(v);
  const table = v.material === undefined ? {} : materials.moduli(materials.find(v.material), d);
  const G = v.shear_modulus ?? table.G;
  const E = v.elastic_modulus ?? table.E;
  const density = v.density ?? table.density;
  const { free_length: L0, load: F, end_fixity: nu } = v;
  const C = D / d;
  const rate = coilRate(G, d, D, n);
  const wahl = (4 * C - 1) / (4 * C - 4) + 0.615 / C;
  const bergstrasser = (4 * C + 2) / (4 * C - 3);
  const torsion = (force) => (8 * force * D) / (Math.PI * d ** 3);
  const answer = {
    mean_diameter: D,
    index: C,
    rate, wahl, bergstrasser,
    active_coils: n,
    total_coils: N,
    solid_length: solidLength,
    wire_length: Math.PI * D * N,
  };
  if (L0 !== undefined) {
    const pitch = (L0 - end.wires * d) / (n + end.ground);
    const solidForce = rate * (L0 - solidLength);
    Object.assign(answer, {
      pitch,
      helix_angle: Math.atan(pitch / (Math.PI * D)),
      solid_travel: L0 - solidLength,
      solid_force: solidForce,
      solid_stress: bergstrasser * torsion(solidForce),
      outer_diameter_solid: Math.sqrt(D ** 2 + (pitch ** 2 - d ** 2) / Math.PI ** 2) + d,
    });
    if (E !== undefined) Object.assign(answer, rodRates(d, D, n, answer.helix_angle, G, E));
  }
  if (F !== undefined) {
    Object.assign(answer, {
      travel: F / rate,
      stress: bergstrasser * torsion(F),
      stress_wahl: wahl * torsion(F),
      stress_uncorrected: torsion(F),
    });
  }
  Object.assign(answer, tolerances({ d, D, n, C, rate }, F, L0));
  if (density !== undefined) {
    answer.mass = density * ((Math.PI * d ** 2) / 4) * Math.PI * D * N;
    answer.surge_frequency = (d / (2 * Math.SQRT2 * Math.PI * n * D ** 2)) * Math.sqrt(G / density);
  }
  if (nu !== undefined && E !== undefined) {
    const C1 = E / (2 * (E - G));
    const C2 = (2 * Math.PI ** 2 * (E - G)) / (2 * G + E);
    answer.stable_slenderness = Math.sqrt(C2) / nu;
    const slenderness = (nu * L0) / D;
    if (L0 !== undefined && C2 <= slenderness ** 2) {
      answer.buckling_travel = L0 * C1 * (1 - Math.sqrt(1 - C2 / slenderness ** 2));
    }
  }
  return answer;
}

// rodRates are those of a thin rod that climbs: ends free to turn, and held.
function rodRates(d, D, n, climb, G, E) {
  const length = (Math.PI * D * n) / Math.cos(climb);
  const R = D / 2;
  const GJ = (G * Math.PI * d ** 4) / 32;
  const EI = (E * Math.PI * d ** 4) / 64;
  const [s, c] = [Math.sin(climb), Math.cos(climb)];
  const c11 = length * R ** 2 * (c ** 2 / GJ + s ** 2 / EI);
  const c12 = length * R * s * c * (1 / GJ - 1 / EI);
  const c22 = length * (s ** 2 / GJ + c ** 2 / EI);
  return { rate_ends_free: 1 / c11, rate_ends_held: 1 / (c11 - c12 ** 2 / c22) };
}

// tolerances are ± of the load at a length and of the free length in grades 1, 2
// and 3, none out of their scope; of the load only where there is one.
function tolerances({ d, D, n, C, rate }, F, L0) {
  const within = (x, from, to) => x >= from * (1 - slack) && x <= to * (1 + slack);
  const inScope = within(d, 0.07e-3, 16e-3) && within(D, 0, 200e-3)
    && (L0 === undefined || within(L0, 0, 630e-3)) && within(n, 2, Infinity) && within(C, 4, 20);
  if (!inScope) return {};
  const c = C / 10;
  const ofDiameters = ((65.92 * (d * 1e3) ** 3.3) / (D * 1e3) ** 1.6) * (-0.84 * c ** 3 + 3.781 * c ** 2 - 4.244 * c + 2.274);
  const ofCoils = 1 / (3 * n ** 2) + 8 / (5 * n) + 0.803;
  const answer = {};
  [0.63, 1, 1.6].forEach((Q, i) => {
    answer[`free_length_tolerance_${i + 1}`] = (ofDiameters * ofCoils * Q) / rate;
    if (F <= 1e15) answer[`load_tolerance_${i + 1}`] = (ofDiameters * ofCoils + 0.015 * F) * Q;
  });
  return answer;
}

/** The condition of spring.caliper. */
export function checkCaliper(input) {
  const v = input.values;
  const measured = ['outer_diameter', 'inner_diameter'].find((name) => input.good(name));
  if (measured && input.good('wire_diameter') && !(v.wire_diameter < meanDiameter(v))) input.refuse('wire_diameter');
}

/** spring.caliper */
export function caliper(v) {
  const { wire_diameter: d, active_coils: n, shear_modulus: G, correlation: r = 0 } = v;
  const isOuter = v.outer_diameter !== undefined;
  const D = meanDiameter(v);
  const k = coilRate(G, d, D, n);
  // Relative changes of the rate by one standard deviation of each input.
  const wire = (4 / d + (isOuter ? 3 : -3) / D) * (v.wire_uncertainty ?? 0);
  const diameter = (-3 / D) * (v.diameter_uncertainty ?? 0);
  const coils = (v.coil_uncertainty ?? 0) / n;
  const modulus = (v.modulus_uncertainty ?? 0) / G;
  const variance = wire ** 2 + diameter ** 2 + 2 * r * wire * diameter + coils ** 2 + modulus ** 2;
  const relative = Math.sqrt(Math.max(variance, 0));
  const shares = [
    ['wire_diameter', wire ** 2],
    [isOuter ? 'outer_diameter' : 'inner_diameter', diameter ** 2],
    ['active_coils', coils ** 2],
    ['shear_modulus', modulus ** 2],
  ];
  const largest = Math.max(...shares.map(([, share]) => share));
  return {
    mean_diameter: D,
    rate: k,
    rate_uncertainty: k * relative,
    relative_uncertainty: relative,
    dominant: largest === 0 ? '' : shares.find(([, share]) => share === largest)[0],
  };
}

/** The conditions of spring.readings. */
export function checkReadings(input) {
  const count = input.count('travel');
  if (count < 3) input.refuse('travel');
  if (input.count('force') !== count) input.refuse('force');
  if (!input.clean) return;
  const { travel, force } = input.values;
  if (travel.every((x) => x === travel[0])) input.refuse('travel');
  else if (!(readings({ travel, force }).rate > 0)) input.refuse('force');
}

/** spring.readings */
export function readings({ travel, force }) {
  const n = travel.length;
  const meanX = sum(travel) / n;
  const meanF = sum(force) / n;
  const squares = sum(travel.map((x) => (x - meanX) ** 2));
  const rate = sum(travel.map((x, i) => (x - meanX) * (force[i] - meanF))) / squares;
  const residuals = sum(travel.map((x, i) => (force[i] - meanF - rate * (x - meanX)) ** 2));
  const s = Math.sqrt(residuals / (n - 2));
  return {
    rate,
    force_at_zero: meanF - rate * meanX,
    rate_standard_error: s / Math.sqrt(squares),
    force_at_zero_standard_error: s * Math.sqrt(1 / n + meanX ** 2 / squares),
    residual_deviation: s,
    residual_rms: Math.sqrt(residuals / n),
  };
}
