// Real gases by their equations of state: the Helmholtz energy over R·T as sums
// of terms, whose tables stand in the description of airspring.gas.

import { root } from './numeric.mjs';

/** EquationOfState is that of one gas. */
class EquationOfState {
  constructor(tables) {
    const rows = (columns) => tables.filter((t) => t.columns.join() === columns).flatMap((t) => t.rows);
    const constants = new Map(rows('symbol,value,unit'));
    this.Tr = constants.get('T_r');
    this.rhor = constants.get('ρ_r');
    this.R = constants.get('R');
    this.L = constants.get('L');
    this.residual = rows('n,d,t,c').map(([n, d, t, c]) => ({ n, d, t, c, phi: 0, beta: 0, gamma: 0 }))
      .concat(rows('n,d,t,φ,β,γ').map(([n, d, t, phi, beta, gamma]) => ({ n, d, t, c: 0, phi, beta, gamma })));
    this.powers = rows('n,i').map(([n, i]) => ({ n, i }));
    this.logarithms = rows('n,c,θ').map(([n, c, theta]) => ({ n, c, theta }));
  }

  /**
   * The residual part and its derivatives, each times its powers of δ and τ: d1 is
   * δ·αʳ_δ, d2 δ²·αʳ_δδ, t1 τ·αʳ_τ, t2 τ²·αʳ_ττ, dt δ·τ·αʳ_δτ.
   */
  #residualPart(delta, tau) {
    const part = { a: 0, d1: 0, d2: 0, t1: 0, t2: 0, dt: 0 };
    for (const { n, d, t, c, phi, beta, gamma } of this.residual) {
      const dc = c > 0 ? delta ** c : 0;
      const exponent = -dc - phi * (delta - 1) ** 2 - beta * (tau - gamma) ** 2;
      const a = n * delta ** d * tau ** t * Math.exp(exponent);
      // Logarithmic derivatives of the term: δ·∂ln a/∂δ, and δ times its own.
      const D = d - c * dc - 2 * phi * delta * (delta - 1);
      const dD = -c * c * dc - 2 * phi * delta * (2 * delta - 1);
      const T = t - 2 * beta * tau * (tau - gamma);
      const dT = -2 * beta * tau * (2 * tau - gamma);
      part.a += a;
      part.d1 += a * D;
      part.d2 += a * (D * D - D + dD);
      part.t1 += a * T;
      part.t2 += a * (T * T - T + dT);
      part.dt += a * D * T;
    }
    return part;
  }

  // The ideal part without ln δ, and τ and τ² times its derivatives by τ.
  #idealPart(tau) {
    let a = this.L * Math.log(tau), t1 = this.L, t2 = -this.L;
    for (const { n, i } of this.powers) {
      const term = n * tau ** i;
      a += term;
      t1 += i * term;
      t2 += i * (i - 1) * term;
    }
    for (const { n, c, theta } of this.logarithms) {
      const e = c * Math.exp(-theta * tau);
      const x = theta * tau;
      a += n * Math.log1p(e);
      t1 -= (n * x * e) / (1 + e);
      t2 += (n * x * x * e) / (1 + e) ** 2;
    }
    return { a, t1, t2 };
  }

  state(rho, T) {
    const delta = rho / this.rhor;
    const tau = this.Tr / T;
    const r = this.#residualPart(delta, tau);
    const i = this.#idealPart(tau);
    const Z = 1 + r.d1;
    const S = 1 + 2 * r.d1 + r.d2;
    const X = 1 + r.d1 - r.dt;
    const heat = -(i.t2 + r.t2); // c_v/R
    return {
      Z,
      pressure: rho * this.R * T * Z,
      entropy: i.t1 + r.t1 - Math.log(delta) - i.a - r.a, // over R
      exponent: (S + (X * X) / heat) / Z,
    };
  }

  /** The density at which the gas has a pressure. */
  density(p, T) {
    const ideal = p / (this.R * T);
    return root((rho) => this.state(rho, T).pressure - p, ideal / 2, 2 * ideal);
  }
}

/** RealGases are the gases whose tables a description of airspring.gas has. */
export class RealGases {
  #tables;

  constructor({ tables }) {
    this.#tables = tables;
  }

  has(name) {
    return this.#tables.some(({ title }) => title === `${name}: constants`);
  }

  #equation(name) {
    return new EquationOfState(this.#tables.filter(({ title }) => title.startsWith(`${name}:`)));
  }

  /** airspring.gas */
  compress({ gas, pressure, temperature, ratio }) {
    const equation = this.#equation(gas);
    const rho = equation.density(pressure, temperature);
    const before = equation.state(rho, temperature);
    if (ratio === undefined) return { compressibility: before.Z, effective_exponent: before.exponent };
    const entropyMissing = (T) => equation.state(ratio * rho, T).entropy - before.entropy;
    const ideal = temperature * ratio ** 0.4;
    const fastTemperature = root(entropyMissing, ideal / 2, 2 * ideal);
    const fast = equation.state(ratio * rho, fastTemperature).pressure;
    const logRatio = Math.log(ratio);
    return {
      effective_exponent: Math.abs(logRatio) <= 1e-6 ? before.exponent : Math.log(fast / pressure) / logRatio,
      slow_pressure: equation.state(ratio * rho, temperature).pressure,
      fast_pressure: fast,
      fast_temperature: fastTemperature,
    };
  }
}
