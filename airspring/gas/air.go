package gas

// airEquation is the equation of state of dry air, as a pseudo-pure fluid, of Lemmon, Jacobsen,
// Penoncello and Friend, J. Phys. Chem. Ref. Data 29 (2000) 331, good from 60 to 2000 K and far
// beyond the pressures reached here. The paper was not opened: the numbers are those of the
// Debian package python3-iapws 1.5.3. With them density, c_v and c_p of the four gas states of
// its table A2 that were seen quoted come out to all their printed digits, and 42 states computed
// in 40 digits from other transcriptions to 1e-12.
var airEquation = equation{
	temperature: 132.6312, density: 10447.7, r: 8.31451,
	terms: []term{
		{0.118160747229, 1, 0, 0}, {0.713116392079, 1, 0.33, 0},
		{-0.161824192067e1, 1, 1.01, 0}, {0.714140178971e-1, 2, 0, 0},
		{-0.865421396646e-1, 3, 0, 0}, {0.134211176704, 3, 0.15, 0},
		{0.112626704218e-1, 4, 0, 0}, {-0.420533228842e-1, 4, 0.2, 0},
		{0.349008431982e-1, 4, 0.35, 0}, {0.164957183186e-3, 6, 1.35, 0},
		{-0.101365037912, 1, 1.6, 1}, {-0.173813690970, 3, 0.8, 1},
		{-0.472103183731e-1, 5, 0.95, 1}, {-0.122523554253e-1, 6, 1.25, 1},
		{-0.146629609713, 1, 3.6, 2}, {-0.316055879821e-1, 3, 6, 2},
		{0.233594806142e-3, 11, 3.25, 2}, {0.148287891978e-1, 1, 3.5, 3},
		{-0.938782884667e-2, 3, 15, 3},
	},
	log:    2.490888032,
	powers: []power{{0.6057194e-7, -3}, {-0.210274769e-4, -2}, {-0.158860716e-3, -1}, {-0.19536342e-3, 1.5}},
	vibrations: []vibration{
		{0.791309509, -1, 25.36365}, {0.212236768, -1, 16.90741},
		// The paper's n·ln(2/3 + e^(θτ)), less n·θτ, which sets a zero only.
		{-0.197938904, 2.0 / 3, 87.31279},
	},
}
