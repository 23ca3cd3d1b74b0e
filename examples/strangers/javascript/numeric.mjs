// Numerical methods: roots by bisection, integrals by adaptive quadrature,
// linear equations and least squares.

/**
 * root returns where f is 0 between a and b, at which it has different signs.
 * The interval is halved until there is no number between its ends.
 */
export function root(f, a, b) {
  const fa = f(a);
  if (fa === 0) return a;
  if (f(b) === 0) return b;
  const rising = fa < 0;
  for (;;) {
    const middle = a + (b - a) / 2;
    if (middle === a || middle === b) return middle;
    const value = f(middle);
    if (value === 0) return middle;
    if (value < 0 === rising) a = middle;
    else b = middle;
  }
}

// The rule of 15 points of Kronrod, and the weights of Gauss's 7 among them.
const nodes = [
  [0, 0.209482141084727828012999174891714, 0.417959183673469387755102040816327],
  [0.207784955007898467600689403773245, 0.204432940075298892414161999234649, 0],
  [0.405845151377397166906606412076961, 0.190350578064785409913256402421014, 0.381830050505118944950369775488975],
  [0.586087235467691130294144691693307, 0.169004726639267902826583426598550, 0],
  [0.741531185599394439863864773280788, 0.140653259715525918745189590510238, 0.279705391489276667901467771423780],
  [0.864864423359769072789712788640926, 0.104790010322250183839876322541518, 0],
  [0.949107912342758524526189684047851, 0.063092092629978553290700663189204, 0.129484966168869693270611432679082],
  [0.991455371120812639206854697526329, 0.022935322010529224963732008058970, 0],
];

/** integral returns ∫ f from a to b, to within some 1e-13 of ∫ |f|. */
export function integral(f, a, b) {
  if (a === b) return 0;
  const rule = (from, to) => {
    const half = (to - from) / 2;
    const middle = from + half;
    let kronrod = 0, gauss = 0, size = 0;
    for (const [x, wk, wg] of nodes) {
      const values = x === 0 ? [f(middle)] : [f(middle - half * x), f(middle + half * x)];
      for (const v of values) {
        kronrod += wk * v;
        gauss += wg * v;
        size += wk * Math.abs(v);
      }
    }
    return { value: kronrod * half, error: Math.abs((kronrod - gauss) * half), size: Math.abs(size * half) };
  };
  const whole = rule(a, b);
  const refine = (from, to, part, depth) => {
    if (depth === 0 || part.error <= 1e-14 * Math.max(whole.size, part.size)) return part.value;
    const middle = from + (to - from) / 2;
    return refine(from, middle, rule(from, middle), depth - 1) + refine(middle, to, rule(middle, to), depth - 1);
  };
  return refine(a, b, whole, 40);
}

/**
 * solve returns the x of A·x = b, by elimination with row pivoting, and the
 * determinant of A with it; x is undefined where that is 0.
 */
export function solve(A, b) {
  const n = b.length;
  const rows = A.map((row, i) => [...row, b[i]]);
  let determinant = 1;
  for (let k = 0; k < n; k++) {
    let pivot = k;
    for (let i = k + 1; i < n; i++) if (Math.abs(rows[i][k]) > Math.abs(rows[pivot][k])) pivot = i;
    if (rows[pivot][k] === 0 || Number.isNaN(rows[pivot][k])) return { determinant: 0 };
    if (pivot !== k) {
      [rows[pivot], rows[k]] = [rows[k], rows[pivot]];
      determinant = -determinant;
    }
    determinant *= rows[k][k];
    for (let i = k + 1; i < n; i++) {
      const factor = rows[i][k] / rows[k][k];
      if (factor !== 0) for (let j = k; j <= n; j++) rows[i][j] -= factor * rows[k][j];
    }
  }
  const x = new Array(n);
  for (let i = n - 1; i >= 0; i--) {
    let sum = rows[i][n];
    for (let j = i + 1; j < n; j++) sum -= rows[i][j] * x[j];
    x[i] = sum / rows[i][i];
  }
  return { x, determinant };
}

/** leastSquares returns the x for which |A·x − b| is least, by reflections (QR). */
export function leastSquares(A, b) {
  const rows = A.map((row, i) => [...row, b[i]]);
  const m = rows.length;
  const n = A[0].length;
  for (let k = 0; k < n; k++) {
    const length = Math.hypot(...rows.slice(k).map((row) => row[k]));
    if (length === 0) continue;
    const v = rows.slice(k).map((row) => row[k]);
    v[0] += v[0] < 0 ? -length : length;
    const square = v.reduce((sum, e) => sum + e * e, 0);
    for (let j = k; j <= n; j++) {
      let dot = 0;
      for (let i = k; i < m; i++) dot += v[i - k] * rows[i][j];
      for (let i = k; i < m; i++) rows[i][j] -= (2 * dot * v[i - k]) / square;
    }
  }
  return solve(rows.slice(0, n).map((row) => row.slice(0, n)), rows.slice(0, n).map((row) => row[n])).x;
}

export const sum = (list) => list.reduce((total, e) => total + e, 0);

/** The place in [from, to] that is nearest to x. */
export const clamp = (x, from, to) => Math.min(Math.max(x, from), to);

/** (eˣ − 1)/x, which is 1 at x = 0. */
export const expm1Over = (x) => (x === 0 ? 1 : Math.expm1(x) / x);

/** roots are those between a and b of a polynomial, the constant first. */
function roots(coefficients, a, b) {
  if (coefficients.length < 2) return [];
  const f = (x) => coefficients.reduceRight((value, c) => value * x + c, 0);
  const turns = roots(coefficients.slice(1).map((c, k) => c * (k + 1)), a, b);
  const ends = [a, ...turns, b];
  return ends.slice(1).flatMap((to, i) => (f(ends[i]) * f(to) < 0 ? [root(f, ends[i], to)] : []));
}

/** extremes are the values of a polynomial at a, at b and where it turns between. */
export function extremes(coefficients, a, b) {
  const f = (x) => coefficients.reduceRight((value, c) => value * x + c, 0);
  return [a, ...roots(coefficients.slice(1).map((c, k) => c * (k + 1)), a, b), b].map(f);
}
