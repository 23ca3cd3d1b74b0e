package gas

// nitrogenEquation is the equation of state of nitrogen of Span, Lemmon, Jacobsen, Wagner and
// Yokozeki, J. Phys. Chem. Ref. Data 29 (2000) 1361, good up to 1000 K and far beyond the pressures
// reached here. The paper was not opened: the numbers were written down from memory, and confirmed
// in these ways. Density, c_v, c_p and speed of sound of three states of its tables that were seen
// quoted come out to all their printed digits; 42 states from 250 to 350 K and up to 40 bar(a),
// computed in 40 digits by another program from two public transcriptions, to all of theirs. At the
// critical point the first and the second derivative of the pressure by the density vanish to
// 1e-11, where the pressure is the 3.3958 MPa remembered for it, and liquid and vapour are in
// balance at the triple point, 12.5198 kPa. Together they would show a slip in any number but the
// τ^16 of the last term and the powers of τ of the bells, which have no part in what is computed
// here.
var nitrogenEquation = equation{
	temperature: 126.192, density: 11183.9, r: 8.31451,
	terms: []term{
		{0.924803575275, 1, 0.25, 0}, {-0.492448489428, 1, 0.875, 0},
		{0.661883336938, 2, 0.5, 0}, {-0.192902649201e1, 2, 0.875, 0},
		{-0.622469309629e-1, 3, 0.375, 0}, {0.349943957581, 3, 0.75, 0},
		{0.564857472498, 1, 0.5, 1}, {-0.161720005987e1, 1, 0.75, 1},
		{-0.481395031883, 1, 2, 1}, {0.421150636384, 3, 1.25, 1},
		{-0.161962230825e-1, 3, 3.5, 1}, {0.172100994165, 4, 1, 1},
		{0.735448924933e-2, 6, 0.5, 1}, {0.168077305479e-1, 6, 3, 1},
		{-0.107626664179e-2, 7, 0, 1}, {-0.137318088513e-1, 7, 2.75, 1},
		{0.635466899859e-3, 8, 0.75, 1}, {0.304432279419e-2, 8, 2.5, 1},
		{-0.435762336045e-1, 1, 4, 2}, {-0.723174889316e-1, 2, 6, 2},
		{0.389644315272e-1, 3, 6, 2}, {-0.212201363910e-1, 4, 3, 2},
		{0.408822981509e-2, 5, 3, 2}, {-0.551990017984e-4, 8, 6, 2},
		{-0.462016716479e-1, 4, 16, 3}, {-0.300311716011e-2, 5, 11, 3},
		{0.368825891208e-1, 5, 15, 3}, {-0.255856846220e-2, 8, 12, 3},
		{0.896915264558e-2, 3, 12, 4}, {-0.441513370350e-2, 5, 7, 4},
		{0.133722924858e-2, 6, 4, 4}, {0.264832491957e-3, 9, 16, 4},
	},
	bells: []bell{
		{0.196688194015e2, 1, 0, 20, 325, 1.16}, {-0.209115600730e2, 1, 1, 20, 325, 1.16},
		{0.167788306989e-1, 3, 2, 15, 300, 1.13}, {0.262767566274e4, 2, 3, 25, 275, 1.25},
	},
	// The paper's α⁰ has −12.76952708 − 0.00784163·τ besides, which set zeros only.
	log:        2.5,
	powers:     []power{{-1.934819e-4, -1}, {-1.247742e-5, -2}, {6.678326e-8, -3}},
	vibrations: []vibration{{1.012941, -1, 26.65788}},
}
