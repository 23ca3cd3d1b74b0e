// Types of what is asked and replied, made by "go generate". Version of the dataset: 0.1.0.
// A quantity is a text with its unit, such as "9.5 mm".

/** The computations by name: what each is given, and its answer. */
export interface Computations {
  /** An air spring at travels: force, rate, energy, pressures, and where it rests without a load. */
  'airspring.law': {
    given: {
      /** p_a, pressure of the air around the spring; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** travels from full extension; outside 0 to the travel the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** diameter of the piston of the positive chamber; in SI in the range [1e-06, 1] */
      bore: Length;
      /** n of p·Vⁿ over the stroke: 1 for a slow stroke or standing still */
      exponent: number;
      /** of the positive chamber at full extension, after slow cycling past the port; in SI in the range (0, 1e+08] */
      fill: GaugePressure;
      /** V_n0, volume of the negative chamber at full extension; in SI in the range [1e-09, 1]; if left out: there is no negative chamber */
      negative_volume?: Volume;
      /** oil in the positive chamber; in SI in the range [0, 1]; if left out: 0 */
      oil_volume?: Volume;
      /** x_t, travel at which the two chambers share their gas; less than the travel; in SI in the range [0, 10]; if left out: 0 mm: the port is at full extension */
      port_travel?: Length;
      /** volume of the empty positive chamber at full extension, before oil and spacers; in SI in the range [1e-09, 1] */
      positive_volume: Volume;
      /** fill of the second chamber at full extension; in SI in the range (0, 1e+08]; if left out: there is no second chamber */
      second_fill?: GaugePressure;
      /** V₂, of a second positive chamber behind a free piston on its stop; in SI in the range [1e-09, 1]; if left out: there is no second chamber */
      second_volume?: Volume;
      /** diameter of the shaft that the negative chamber is around; less than the bore; in SI in the range [1e-06, 1]; if left out: there is no negative chamber; without one a shaft has no effect */
      shaft?: Length;
      /** of one volume spacer; more than 0 where spacers are fitted; in SI in the range [0, 1]; if left out: 0 */
      spacer_volume?: Volume;
      /** how many spacers are fitted; in SI in the range [0, 1000]; if left out: 0 */
      spacers?: number;
      /** from full extension to full compression; in SI in the range [1e-06, 10] */
      travel: Length;
    };
    answer: {
      /** of what is left of the positive chamber, a second one not counted */
      compression_ratio: number;
      /** work done on the spring from full extension */
      energy: Energy[];
      /** F at each travel, resisting compression; negative where the negative chamber pulls harder */
      force: Force[];
      /** of the negative chamber */
      negative_pressure?: AbsolutePressure[];
      /** at which the second chamber opens; 0 where it is open from the start; beyond the travel it never opens */
      opening_travel?: Length;
      /** of the positive chamber */
      positive_pressure: AbsolutePressure[];
      /** dF/dx at each travel; where a second chamber opens the right-hand value */
      rate: Stiffness[];
      /** at which the spring rests without a load: 0 if F(0) ≥ 0, else the travel with F = 0; the full travel if F is below 0 there too */
      rest_travel: Length;
    };
  };
  /** The fill with which an air spring carries a force at a travel. */
  'airspring.fill': {
    given: {
      /** p_a, pressure of the air around the spring; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** travel, not beyond the spring's own; in SI in the range [0, 10]; if left out: 0 mm, full extension */
      at?: Length;
      /** diameter of the piston of the positive chamber; in SI in the range [1e-06, 1] */
      bore: Length;
      /** n of p·Vⁿ over the stroke: 1 for a slow stroke or standing still */
      exponent: number;
      /** must be left out: it is what is sought; if left out: as it must be */
      fill?: GaugePressure;
      /** F along the spring */
      force: Force;
      /** V_n0, volume of the negative chamber at full extension; in SI in the range [1e-09, 1]; if left out: there is no negative chamber */
      negative_volume?: Volume;
      /** oil in the positive chamber; in SI in the range [0, 1]; if left out: 0 */
      oil_volume?: Volume;
      /** x_t, travel at which the two chambers share their gas; less than the travel; in SI in the range [0, 10]; if left out: 0 mm: the port is at full extension */
      port_travel?: Length;
      /** volume of the empty positive chamber at full extension, before oil and spacers; in SI in the range [1e-09, 1] */
      positive_volume: Volume;
      /** fill of the second chamber at full extension; in SI in the range (0, 1e+08]; if left out: there is no second chamber */
      second_fill?: GaugePressure;
      /** V₂, of a second positive chamber behind a free piston on its stop; in SI in the range [1e-09, 1]; if left out: there is no second chamber */
      second_volume?: Volume;
      /** diameter of the shaft that the negative chamber is around; less than the bore; in SI in the range [1e-06, 1]; if left out: there is no negative chamber; without one a shaft has no effect */
      shaft?: Length;
      /** of one volume spacer; more than 0 where spacers are fitted; in SI in the range [0, 1]; if left out: 0 */
      spacer_volume?: Volume;
      /** how many spacers are fitted; in SI in the range [0, 1000]; if left out: 0 */
      spacers?: number;
      /** from full extension to full compression; in SI in the range [1e-06, 10] */
      travel: Length;
    };
    answer: {
      /** of the positive chamber at full extension */
      fill: GaugePressure;
    };
  };
  /** The fill that carries a force at a stroke, of a spring whose chambers are not known, from readings of gauge and ring. */
  'airspring.calibrate': {
    given: {
      /** p_a; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** s, the stroke wanted; in SI in the range [0, 10]; if left out: 0 mm */
      at?: Length;
      /** F along the spring */
      force: Force;
      /** standard error of a fill; in SI in the range [0, 1e+08]; if left out: 0: the gauge is exact */
      gauge_error?: GaugePressure;
      /** whether the spring has a negative chamber that fills itself */
      negative_chamber: boolean;
      /** of the area A_o on which the ambient presses: the bore without a negative chamber, the shaft with one; in SI in the range [1e-06, 1] */
      outside_diameter: Length;
      /** in any order; at two different strokes or more, at four with a negative chamber */
      readings: GaugeReading[];
      /** standard error of a stroke; the answer depends on it only beside a gauge_error; in SI in the range [1e-09, 10]; if left out: 1 mm */
      ring_error?: Length;
    };
    answer: {
      /** g of the positive chamber at full extension */
      fill: GaugePressure;
    };
  };
  /** The next fill to set on the way to the one that carries a force at a stroke, from one reading of gauge and ring or more, with bounds that hold whatever the chambers. */
  'airspring.step': {
    given: {
      /** p_a; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** s, the stroke wanted; in SI in the range (0, 10] */
      at?: Length;
      /** F along the spring; in SI in the range [0, 1e+09] */
      force: Force;
      /** standard error of a fill; in SI in the range [0, 1e+08]; if left out: 0: the gauge is exact */
      gauge_error?: GaugePressure;
      /** the marking on the part; in SI in the range (0, 1e+08] */
      max_fill: GaugePressure;
      /** whether the spring has a negative chamber that fills itself */
      negative_chamber: boolean;
      /** of the area A_o on which the ambient presses: the bore without a negative chamber, the shaft with one; in SI in the range [1e-06, 1] */
      outside_diameter: Length;
      /** in any order */
      readings: GaugeReading[];
      /** standard error of a stroke; the answer depends on it only beside a gauge_error; in SI in the range [1e-09, 10]; if left out: 1 mm */
      ring_error?: Length;
    };
    answer: {
      /** to set; max_fill where more would be needed */
      fill: GaugePressure;
      /** greatest such fill; 0 where that is less than 0 */
      high?: GaugePressure;
      /** least fill with which the spring can carry F at s */
      low?: GaugePressure;
      /** calibrated, same_stroke, between, beyond or one: the first of these that holds, see the method */
      reason: string;
    };
  };
  /** The spring that readings of gauge and ring give, as a law of force over stroke, with a fill and standing still. */
  'airspring.known': {
    given: {
      /** p_a; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** strokes; outside 0 to the deepest one read the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** g, of the positive chamber at full extension; in SI in the range (0, 1e+08] */
      fill: GaugePressure;
      /** standard error of a fill; in SI in the range [0, 1e+08]; if left out: 0: the gauge is exact */
      gauge_error?: GaugePressure;
      /** whether the spring has a negative chamber that fills itself */
      negative_chamber: boolean;
      /** of the area A_o on which the ambient presses: the bore without a negative chamber, the shaft with one; in SI in the range [1e-06, 1] */
      outside_diameter: Length;
      /** as in airspring.calibrate */
      readings: GaugeReading[];
      /** standard error of a stroke; the answer depends on it only beside a gauge_error; in SI in the range [1e-09, 10]; if left out: 1 mm */
      ring_error?: Length;
    };
    answer: {
      /** from full extension to each stroke */
      energy: Energy[];
      /** F at each stroke */
      force: Force[];
      /** stroke at which no volume is left */
      length: Length;
      /** at each stroke */
      rate: Stiffness[];
    };
  };
  /** The fill with which an air spring carries a force at a travel, no more than the marking on the part, and the spring at full travel with it. */
  'airspring.marked': {
    given: {
      /** p_a, pressure of the air around the spring; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** travel, not beyond the spring's own; in SI in the range (0, 10] */
      at?: Length;
      /** diameter of the piston of the positive chamber; in SI in the range [1e-06, 1] */
      bore: Length;
      /** n of p·Vⁿ over the stroke: 1 for a slow stroke or standing still */
      exponent: number;
      /** must be left out: it is what is sought; if left out: as it must be */
      fill?: GaugePressure;
      /** F along the spring; if left out: 0 N */
      force?: Force;
      /** the marking; in SI in the range (0, 1e+08] */
      max_fill: GaugePressure;
      /** V_n0, volume of the negative chamber at full extension; in SI in the range [1e-09, 1]; if left out: there is no negative chamber */
      negative_volume?: Volume;
      /** oil in the positive chamber; in SI in the range [0, 1]; if left out: 0 */
      oil_volume?: Volume;
      /** x_t, travel at which the two chambers share their gas; less than the travel; in SI in the range [0, 10]; if left out: 0 mm: the port is at full extension */
      port_travel?: Length;
      /** volume of the empty positive chamber at full extension, before oil and spacers; in SI in the range [1e-09, 1] */
      positive_volume: Volume;
      /** fill of the second chamber at full extension; in SI in the range (0, 1e+08]; if left out: there is no second chamber */
      second_fill?: GaugePressure;
      /** V₂, of a second positive chamber behind a free piston on its stop; in SI in the range [1e-09, 1]; if left out: there is no second chamber */
      second_volume?: Volume;
      /** diameter of the shaft that the negative chamber is around; less than the bore; in SI in the range [1e-06, 1]; if left out: there is no negative chamber; without one a shaft has no effect */
      shaft?: Length;
      /** of one volume spacer; more than 0 where spacers are fitted; in SI in the range [0, 1]; if left out: 0 */
      spacer_volume?: Volume;
      /** how many spacers are fitted; in SI in the range [0, 1000]; if left out: 0 */
      spacers?: number;
      /** from full extension to full compression; in SI in the range [1e-06, 10] */
      travel: Length;
    };
    answer: {
      /** at full travel with n = exponent */
      fast_full_force: Force;
      /** fill_wanted or max_fill, whichever is less; for beyond max_fill; for none 1 kPa or max_fill, whichever is less */
      fill: GaugePressure;
      /** that carries the force, as in airspring.fill with n = 1 */
      fill_wanted?: GaugePressure;
      /** met; at_marking: more would be needed; beyond: more than 1e8 Pa would be; none: a fill of 0 carries more */
      outcome: string;
      /** at full travel with n = 1 */
      slow_full_force: Force;
    };
  };
  /** How a change of fill of a spring with a negative chamber goes on, cycle by cycle: the pump changes the positive chamber alone, and cycling slowly past the port lets both have one pressure. */
  'airspring.topup': {
    given: {
      /** p_a, pressure of the air around; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** diameter of the piston of the positive chamber; in SI in the range [1e-06, 1] */
      bore: Length;
      /** wanted; in SI in the range (0, 1e+08] */
      fill: GaugePressure;
      /** V_n0 at full extension; in SI in the range [1e-09, 1] */
      negative_volume: Volume;
      /** reading after the last cycling; in SI in the range [0, 1e+08]; if left out: 0: just assembled, both chambers at p_a */
      old_fill?: GaugePressure;
      /** x_t; in SI in the range [0, 10]; if left out: 0 mm: the port is at full extension */
      port_travel?: Length;
      /** V_p0 at full extension, less oil and spacers; more than is swept up to the port; in SI in the range [1e-09, 1] */
      positive_volume: Volume;
      /** x_m, how far the spring may be pulled in while air is let out; less than x_t, and more than where the spring stands after cycling at the new fill; in SI in the range [0, 10]; if left out: three quarters of the way from where it stands after cycling at the new fill to the port */
      pull_in?: Length;
      /** diameter of the shaft; less than the bore; in SI in the range [1e-06, 1] */
      shaft: Length;
      /** how far from the fill the last reading may be; in SI in the range (0, 1e+08] */
      within: GaugePressure;
    };
    answer: {
      /** how many times the spring is cycled, 1 or more */
      cycles: number;
      /** what the gauge shows after each step (setting the pressure and cycling are a step each), where the spring then stands */
      gauge: GaugePressure[];
      /** of the negative chamber at full extension after each cycle */
      negative_pressure: AbsolutePressure[];
      /** x_m */
      pull_in?: Length;
      /** of the positive chamber at full extension after each cycle, before the pressure is set again */
      reading: GaugePressure[];
      /** where the spring stands without a load after each step; 0 throughout where the fill is raised */
      stands: Length[];
    };
  };
  /** What a cycle past the port leaves of a change of fill. */
  'airspring.carry': {
    given: {
      /** p_a, pressure of the air around; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** diameter of the piston of the positive chamber; in SI in the range [1e-06, 1] */
      bore: Length;
      /** wanted; in SI in the range (0, 1e+08] */
      fill: GaugePressure;
      /** V_n0 at full extension; in SI in the range [1e-09, 1] */
      negative_volume: Volume;
      /** reading after the last cycling; in SI in the range [0, 1e+08]; if left out: 0: just assembled, both chambers at p_a */
      old_fill?: GaugePressure;
      /** x_t; in SI in the range [0, 10]; if left out: 0 mm: the port is at full extension */
      port_travel?: Length;
      /** V_p0 at full extension, less oil and spacers; more than is swept up to the port; in SI in the range [1e-09, 1] */
      positive_volume: Volume;
      /** x_m, how far the spring may be pulled in while air is let out; less than x_t, and more than where the spring stands after cycling at the new fill; in SI in the range [0, 10]; if left out: three quarters of the way from where it stands after cycling at the new fill to the port */
      pull_in?: Length;
      /** diameter of the shaft; less than the bore; in SI in the range [1e-06, 1] */
      shaft: Length;
      /** how far from the fill the last reading may be; in SI in the range (0, 1e+08] */
      within: GaugePressure;
    };
    answer: {
      /** share of a change of fill that each cycle after the first leaves */
      carry: number;
    };
  };
  /** What a pump's gauge shows once its hose, at ambient pressure, is screwed on to a filled chamber, and back. */
  'airspring.hose': {
    given: {
      /** V at full extension; in SI in the range [1e-09, 1] */
      chamber_volume: Volume;
      /** of the chamber before; in SI in the range [0, 1e+08]; if left out: reading is given */
      fill?: GaugePressure;
      /** V_h, of hose and gauge; in SI in the range [0, 1]; if left out: 0 */
      hose_volume?: Volume;
      /** of the gauge; in SI in the range [0, 1e+08]; if left out: fill is given */
      reading?: GaugePressure;
    };
    answer: {
      fill?: GaugePressure;
      reading?: GaugePressure;
    };
  };
  /** The gauge pressure of a sealed chamber brought from one place to another, at full extension. */
  'airspring.conditions': {
    given: {
      /** g₁ in the first place; g₁ + p_a1 more than 0; in SI in the range (−∞, 1e+08]; if left out: 0 */
      fill?: GaugePressure;
      /** where it was filled */
      from?: Conditions;
      /** where it is */
      to?: Conditions;
    };
    answer: {
      /** g₂; it may be below 0 */
      fill: GaugePressure;
    };
  };
  /** Standard pressure and temperature of the air at an altitude. */
  'airspring.atmosphere': {
    given: {
      /** H, geopotential; in SI in the range [-500, 11000] */
      altitude: Length;
    };
    answer: {
      pressure: AbsolutePressure;
      temperature: Temperature;
    };
  };
  /** An ideal gas along p·Vⁿ = constant. */
  'airspring.polytropic': {
    given: {
      /** n */
      exponent: number;
      /** p₁ before; in SI in the range (0, 1e+09] */
      pressure: AbsolutePressure;
      /** V₂ after; in SI in the range [1e-12, 1e+06] */
      to_volume: Volume;
      /** V₁ before; in SI in the range [1e-12, 1e+06] */
      volume: Volume;
    };
    answer: {
      /** after */
      pressure: AbsolutePressure;
      /** done on the gas, negative for expansion; the ambient's share is not subtracted */
      work: Energy;
    };
  };
  /** How warm an ideal gas becomes along p·Vⁿ = constant. */
  'airspring.warming': {
    given: {
      /** n */
      exponent: number;
      /** p₁ before; in SI in the range (0, 1e+09] */
      pressure: AbsolutePressure;
      /** V₂ after; in SI in the range [1e-12, 1e+06] */
      to_volume: Volume;
      /** V₁ before; in SI in the range [1e-12, 1e+06] */
      volume: Volume;
    };
    answer: {
      /** ratio of the absolute temperatures after and before */
      warming: number;
    };
  };
  /** A gas under sinusoidal strokes about a mean volume, which exchanges heat with the walls with a time constant τ. */
  'airspring.heat': {
    given: {
      /** p_a, pressure of the air around; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** X of the stroke; A·X less than 0.99·V; in SI in the range (0, ∞); if left out: the outputs of a stroke of that size are not given */
      amplitude?: Length;
      /** A of the piston; in SI in the range [1e-12, 10] */
      area: Area;
      /** at the mean volume and the walls' temperature; in SI in the range (0, 1e+08] */
      fill: GaugePressure;
      /** γ = c_p/c_v */
      heat_ratio: number;
      /** w = ω·τ; with an amplitude from 1e-6 to 1e6; if left out: 0 */
      omega_tau?: number;
      /** V, mean; in SI in the range [1e-09, 1] */
      volume: Volume;
    };
    answer: {
      /** dissipated in a cycle of this very size, the area of the loop of pressure over volume */
      energy_lost?: Energy;
      /** dissipated in a cycle by the small-stroke formula */
      energy_small?: Energy;
      /** of an infinitely slow stroke */
      isothermal_rate: Stiffness;
      loss_factor: number;
      /** small strokes, a quarter of a period ahead */
      loss_rate: Stiffness;
      /** at the phases 0°, 90°, 180°, 270° of the volume V − A·X·sin φ: mean, least, mean, greatest */
      pressure?: AbsolutePressure[];
      /** small strokes, in phase */
      storage_rate: Stiffness;
    };
  };
  /** A gas whose volume changes and then stays, while it exchanges heat with the walls. */
  'airspring.hold': {
    given: {
      /** times since the change began; with a ramp up to 1e6 s; in SI in the range [0, ∞); if left out: the list is empty */
      after?: Time[];
      /** p_a, pressure of the air around; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** before; in SI in the range (0, 1e+08] */
      fill: GaugePressure;
      /** γ = c_p/c_v */
      heat_ratio: number;
      /** over which the volume changes evenly; in SI in the range (0, 1e+06]; if left out: it changes at once */
      ramp?: Time;
      /** τ; in SI in the range [1e-06, 1e+06] */
      time_constant: Time;
      /** V₂ after; in SI in the range [1e-09, 1] */
      to_volume: Volume;
      /** V₁ before, at the walls' temperature; in SI in the range [1e-09, 1] */
      volume: Volume;
    };
    answer: {
      /** at each of these times */
      pressure: AbsolutePressure[];
    };
  };
  /** A gas over a history of its volume, while it exchanges heat with the walls. */
  'airspring.follow': {
    given: {
      /** p_a, pressure of the air around; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** at the first time, with the gas at the walls' temperature; in SI in the range (0, 1e+08] */
      fill: GaugePressure;
      /** γ = c_p/c_v */
      heat_ratio: number;
      /** tᵢ, each 1 ps or more after the one before; in SI in the range [-1e+06, 1e+06] */
      time: Time[];
      /** τ; in SI in the range [1e-06, 1e+06] */
      time_constant: Time;
      /** Vᵢ at these times, as many; linear in between; in SI in the range [1e-09, 1] */
      volume: Volume[];
    };
    answer: {
      /** at each time */
      pressure: AbsolutePressure[];
      /** absolute temperature of the gas over that of the walls, at each time */
      warming: number[];
      /** done on the gas since the first time, negative for expansion; the ambient's share is not subtracted */
      work: Energy[];
    };
  };
  /** A real gas: how far it is from an ideal one in a state, or compressed from that state. */
  'airspring.gas': {
    given: {
      /** its name */
      gas: 'air' | 'nitrogen';
      /** p₁; in SI in the range [0.001, 4e+06] */
      pressure: AbsolutePressure;
      /** r = V₁/V₂ of a change of volume; if left out: the state is wanted */
      ratio?: number;
      /** T₁; in SI in the range [250, 350] */
      temperature: Temperature;
    };
    answer: {
      /** Z of the state */
      compressibility?: number;
      /** n of p·Vⁿ: without a ratio at the start of a fast stroke; with one over the whole of it */
      effective_exponent: number;
      /** after the change at constant entropy */
      fast_pressure?: AbsolutePressure;
      /** after the change at constant entropy */
      fast_temperature?: Temperature;
      /** after the change at constant temperature */
      slow_pressure?: AbsolutePressure;
    };
  };
  /** Ratio of the heat capacities of a real gas in a state. */
  'airspring.heat_ratio': {
    given: {
      /** its name */
      gas: 'air' | 'nitrogen';
      /** p₁; in SI in the range [0.001, 4e+06] */
      pressure: AbsolutePressure;
      /** T₁; in SI in the range [250, 350] */
      temperature: Temperature;
    };
    answer: {
      /** at constant pressure and at constant volume */
      heat_ratio: number;
    };
  };
  /** The chambers of a spring that readings of gauge and ring tell, and how sure they and a fill are. */
  'airspring.chambers': {
    given: {
      /** p_a; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** s, the stroke wanted; in SI in the range [0, 10]; if left out: 0 mm */
      at?: Length;
      /** F along the spring */
      force: Force;
      /** standard error of a fill; in SI in the range [0, 1e+08]; if left out: 0: the gauge is exact */
      gauge_error?: GaugePressure;
      /** whether the spring has a negative chamber that fills itself */
      negative_chamber: boolean;
      /** of the area A_o on which the ambient presses: the bore without a negative chamber, the shaft with one; in SI in the range [1e-06, 1] */
      outside_diameter: Length;
      /** in any order; at two different strokes or more, at four with a negative chamber */
      readings: GaugeReading[];
      /** standard error of a stroke; the answer depends on it only beside a gauge_error; in SI in the range [1e-09, 10]; if left out: 1 mm */
      ring_error?: Length;
    };
    answer: {
      /** the readings, from 0, that are more than 3 standard errors off the spring, and off no less than any other to 1e-3 of it; a reading whose ℓᵢ is 1 to 1e-6 does not count */
      beyond: number[];
      /** of the positive chamber */
      bore: Length;
      /** standard error of bore */
      bore_error: Length;
      /** standard error of the fill that airspring.calibrate gives for force and at */
      fill_error: GaugePressure;
      /** that readings approached from both sides show, the mean over them */
      friction?: Force;
      /** what the friction makes of the fill, to either side */
      friction_fill?: GaugePressure;
      /** at full extension; 0 without a negative chamber */
      negative_volume: Volume;
      /** standard error of negative_volume */
      negative_volume_error: Volume;
      /** x_t; 0 without a negative chamber */
      port_travel: Length;
      /** standard error of port_travel */
      port_travel_error: Length;
      /** at full extension */
      positive_volume: Volume;
      /** standard error of positive_volume */
      positive_volume_error: Volume;
      /** stroke of each reading less that of the spring */
      residual: Length[];
      /** its standard error by those of ring and gauge */
      residual_error: Length[];
      /** standard error of the stroke at which that fill carries the force */
      stroke_error: Length;
    };
  };
  /** A sealed air spring brought to another temperature and another ambient pressure, no gas added or let out. */
  'airspring.change': {
    given: {
      /** p_a, pressure of the air around the spring; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** travels from full extension; outside 0 to the travel the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** diameter of the piston of the positive chamber; in SI in the range [1e-06, 1] */
      bore: Length;
      /** n of p·Vⁿ over the stroke: 1 for a slow stroke or standing still */
      exponent: number;
      /** of the positive chamber at full extension, after slow cycling past the port; in SI in the range (0, 1e+08] */
      fill: GaugePressure;
      /** T₁ of the gas when it was filled; in SI in the range [200, 400] */
      from: Temperature;
      /** V_n0, volume of the negative chamber at full extension; in SI in the range [1e-09, 1]; if left out: there is no negative chamber */
      negative_volume?: Volume;
      /** oil in the positive chamber; in SI in the range [0, 1]; if left out: 0 */
      oil_volume?: Volume;
      /** x_t, travel at which the two chambers share their gas; less than the travel; in SI in the range [0, 10]; if left out: 0 mm: the port is at full extension */
      port_travel?: Length;
      /** volume of the empty positive chamber at full extension, before oil and spacers; in SI in the range [1e-09, 1] */
      positive_volume: Volume;
      /** fill of the second chamber at full extension; in SI in the range (0, 1e+08]; if left out: there is no second chamber */
      second_fill?: GaugePressure;
      /** V₂, of a second positive chamber behind a free piston on its stop; in SI in the range [1e-09, 1]; if left out: there is no second chamber */
      second_volume?: Volume;
      /** diameter of the shaft that the negative chamber is around; less than the bore; in SI in the range [1e-06, 1]; if left out: there is no negative chamber; without one a shaft has no effect */
      shaft?: Length;
      /** of one volume spacer; more than 0 where spacers are fitted; in SI in the range [0, 1]; if left out: 0 */
      spacer_volume?: Volume;
      /** how many spacers are fitted; in SI in the range [0, 1000]; if left out: 0 */
      spacers?: number;
      /** T₂ of the gas now; in SI in the range [200, 400] */
      to: Temperature;
      /** p_a2 around it now; ambient is that when it was filled; in SI in the range [1000, 1e+06] */
      to_ambient: AbsolutePressure;
      /** from full extension to full compression; in SI in the range [1e-06, 10] */
      travel: Length;
    };
    answer: {
      /** of the positive chamber at full extension, now */
      fill: GaugePressure;
      /** at each travel */
      force: Force[];
      /** what oil and spacers leave of the positive chamber at each travel; a second chamber and the way of its piston are not counted */
      positive_volume: Volume[];
      /** at each travel */
      rate: Stiffness[];
      /** that the gas of the second chamber fills */
      second_volume?: Volume[];
    };
  };
  /** A lever-ratio curve through, or near, the points of a table. */
  'linkage.table': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** of the polynomial of the travel, of the method measured alone; in SI in the range [3, 5]; if left out: 4, and 3 of fewer than 7 values */
      degree?: number;
      /** LR = dw/ds at each stroke, or at each travel where there are no strokes; if left out: stroke and travel are given */
      lever_ratio?: number[];
      /** how the points become a curve; if left out: monotone */
      method?: 'monotone' | 'smooth' | 'measured';
      /** s of the shock; the first is 0 and each is more than the one before by at least a billionth of the last, which is from 1 µm to 1 km; of the method measured see there; if left out: travel and lever_ratio are given */
      stroke?: Length[];
      /** w of the wheel, vertical, at each stroke or beside each ratio; the first is 0, each is more than the one before, beside ratios by at least a billionth of the last, and the last is from 1 µm to 1 km; of the method measured see there; if left out: stroke and lever_ratio are given */
      travel?: Length[];
    };
    answer: {
      /** LR = dw/ds at each stroke */
      lever_ratio: number[];
      /** dLR/ds at each stroke */
      lever_ratio_slope: RatioSlope[];
      /** positive where the ratio falls */
      progression: number;
      /** the full stroke s, which of ratios over the travel follows from them */
      stroke_full: Length;
      /** w at each stroke, vertical wheel travel from full extension */
      travel: Length[];
    };
  };
  /** How far the axle moves over the stroke with the frame held still, and how fast. */
  'linkage.axle': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** of the wheel */
      curve?: Curve;
    };
    answer: {
      /** x from full extension, below 0 to the rear */
      forward: Length[];
      forward_rate: number[];
      forward_slope: RatioSlope[];
      /** w, the vertical travel */
      up: Length[];
      /** the lever ratio */
      up_rate: number[];
      up_slope: RatioSlope[];
    };
  };
  /** How the lever ratio changes over the stroke, and its extremes. */
  'linkage.progression': {
    given: {
      /** of the wheel */
      curve?: Curve;
    };
    answer: {
      /** LR at full stroke */
      end: number;
      /** the greatest */
      max: number;
      /** of the greatest */
      max_at: Length;
      /** the least LR over the whole stroke */
      min: number;
      /** stroke of the least, the first of several */
      min_at: Length;
      start: number;
      /** positive where the ratio falls */
      value: number;
    };
  };
  /** The motion of a suspension's wheel over the stroke of its shock. */
  'linkage.mechanism': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** the suspension */
      mechanism?: Mechanism;
    };
    answer: {
      /** growth of the axle's distance from the origin, the bottom bracket */
      axle_growth: Length[];
      /** x of the axle at each stroke */
      axle_x: Length[];
      /** y of the axle */
      axle_y: Length[];
      /** of the body that carries the wheel against the frame */
      instant_centre_x: Length[];
      /** likewise */
      instant_centre_y: Length[];
      lever_ratio: number[];
      lever_ratio_slope: RatioSlope[];
      /** of the axle's path from full extension */
      path_length: Length[];
      /** positive where the ratio falls */
      progression: number;
      /** w, vertical */
      travel: Length[];
    };
  };
  /** How the body that carries the wheel turns over the stroke. */
  'linkage.carrier': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** the suspension */
      mechanism?: Mechanism;
    };
    answer: {
      /** θ since full extension, counter-clockwise, from −180° to 180° */
      carrier_turn: Angle[];
      /** in rad per metre of stroke */
      carrier_turning: number[];
    };
  };
  /** Anti-squat, anti-rise, chain growth and pedal kickback of a suspension with chain and rear brake. */
  'linkage.drivetrain': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** name of the body that carries the brake's caliper; if left out: the body that carries the wheel */
      brake_on?: string;
      /** pulleys of the chain */
      drivetrain?: Pulleys;
      /** x of the front axle at full extension, in front of the bottom bracket, where both wheels stand on level ground: its height is y_axle(0) − R + R_f. More than R ahead of the rear axle at every stroke; in SI in the range [-10, 10]; if left out: 0 mm */
      front_axle_x?: Length;
      /** R_f of the front tyre; it matters to the ground front alone; in SI in the range [1e-06, 10]; if left out: wheel_radius */
      front_wheel_radius?: Length;
      /** level: the frame stays level and the ground horizontal below the rear wheel; front: the front axle stays where it is at full extension, and the ground is the line below both wheels */
      ground: 'level' | 'front';
      /** [x in front of the bottom bracket, height above the ground] of bike and rider at full extension; it moves with the frame. x from −10 m to 10 m, height from 1 µm to 10 m */
      mass_centre: [Length, Length];
      /** the suspension */
      mechanism?: Mechanism;
      /** R of the rear tyre, taken as rigid; in SI in the range [1e-06, 10] */
      wheel_radius: Length;
    };
    answer: {
      /** share of the load transfer under braking with the rear brake alone */
      anti_rise: number[];
      /** share of the load transfer under acceleration that chain and drive force cancel */
      anti_squat: number[];
      /** increase of the tight run since full extension, its wrap on the pulleys included */
      chain_growth: Length[];
      /** by which the chainring has turned backward since full extension against the body that carries it, the wheel not turning against the frame */
      kickback_wheel_fixed: Angle[];
      /** likewise, the frame not moving forward and the tyre rolling on level ground */
      kickback_wheel_rolling: Angle[];
    };
  };
  /** What a hole that is bored off its place does to travel and lever ratio, to first order. */
  'linkage.sensitivity': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** name of the body that the hole is in, frame or moving */
      body: string;
      /** the suspension */
      mechanism?: Mechanism;
      /** name of the point, one of that body */
      point: string;
    };
    answer: {
      /** derivative of the lever ratio by the hole's x, at each stroke */
      lever_ratio_per_x: RatioSlope[];
      /** likewise by its y */
      lever_ratio_per_y: RatioSlope[];
      /** derivative of the travel by the hole's x */
      travel_per_x: number[];
      /** likewise by its y */
      travel_per_y: number[];
    };
  };
  /** What a point that is drawn elsewhere does to a suspension with chain and brake, to first order. */
  'linkage.drawing': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** name of the body that carries the brake's caliper; if left out: the body that carries the wheel */
      brake_on?: string;
      /** pulleys of the chain */
      drivetrain?: Pulleys;
      /** x of the front axle at full extension, in front of the bottom bracket, where both wheels stand on level ground: its height is y_axle(0) − R + R_f. More than R ahead of the rear axle at every stroke; in SI in the range [-10, 10]; if left out: 0 mm */
      front_axle_x?: Length;
      /** R_f of the front tyre; it matters to the ground front alone; in SI in the range [1e-06, 10]; if left out: wheel_radius */
      front_wheel_radius?: Length;
      /** level: the frame stays level and the ground horizontal below the rear wheel; front: the front axle stays where it is at full extension, and the ground is the line below both wheels */
      ground: 'level' | 'front';
      /** [x in front of the bottom bracket, height above the ground] of bike and rider at full extension; it moves with the frame. x from −10 m to 10 m, height from 1 µm to 10 m */
      mass_centre: [Length, Length];
      /** the suspension */
      mechanism?: Mechanism;
      /** name of one of the mechanism's points */
      point: string;
      /** R of the rear tyre, taken as rigid; in SI in the range [1e-06, 10] */
      wheel_radius: Length;
    };
    answer: {
      /** derivative of the anti-rise by the point's x, at each stroke */
      anti_rise_per_x: RatioSlope[];
      /** likewise by its y */
      anti_rise_per_y: RatioSlope[];
      /** derivative of the anti-squat by the point's x, at each stroke */
      anti_squat_per_x: RatioSlope[];
      /** likewise by its y */
      anti_squat_per_y: RatioSlope[];
      /** derivative of the chain growth by the point's x, at each stroke */
      chain_growth_per_x: number[];
      /** likewise by its y */
      chain_growth_per_y: number[];
      /** derivative of the kickback with a rolling wheel, in rad per m by the point's x, at each stroke */
      kickback_wheel_rolling_per_x: RatioSlope[];
      /** likewise by its y */
      kickback_wheel_rolling_per_y: RatioSlope[];
      /** derivative of the lever ratio by the point's x, at each stroke */
      lever_ratio_per_x: RatioSlope[];
      /** likewise by its y */
      lever_ratio_per_y: RatioSlope[];
      /** from eye to eye at full extension */
      shock_length: Length;
      /** derivative of the travel, which counts from the new full extension by the point's x, at each stroke */
      travel_per_x: number[];
      /** likewise by its y */
      travel_per_y: number[];
    };
  };
  /** Forces in a pivot and at the shock of a suspension that stands still under a wheel load, and how far the pivot has turned. */
  'linkage.joints': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** name of a point that exactly two bodies share, frame or moving */
      joint: string;
      /** the suspension */
      mechanism?: Mechanism;
      /** vertical, up, on the body that carries the wheel, at the axle; in SI in the range [1e-09, 1e+09] */
      wheel_force: Force;
    };
    answer: {
      /** direction of F from x, counter-clockwise, more than −180° and up to 180°; that of a force of 0 is not defined */
      joint_angle: Angle[];
      /** size of the force F on the first body at the joint */
      joint_force: Force[];
      /** turn of the second body against the first since full extension, counter-clockwise, counted on beyond 180° */
      joint_turn: Angle[];
      /** of the shock, pushing its eyes apart */
      shock_force: Force[];
    };
  };
  /** Forces in a pivot, along a link and at the shock while the chain drives the wheel or the brake holds it. */
  'linkage.forces': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; at most 300; if left out: the lists are empty */
      at?: Length[];
      /** name of the body that carries the brake's caliper; if left out: the body that carries the wheel */
      brake_on?: string;
      /** pulleys of the chain */
      drivetrain?: Pulleys;
      /** of the ground on the tyre, along the ground: above 0 the chain drives the wheel, below 0 the rear brake holds it; in SI in the range [-1e+06, 1e+06]; if left out: 0 N: neither */
      forward?: Force;
      /** x of the front axle at full extension, in front of the bottom bracket, where both wheels stand on level ground: its height is y_axle(0) − R + R_f. More than R ahead of the rear axle at every stroke; in SI in the range [-10, 10]; if left out: 0 mm */
      front_axle_x?: Length;
      /** R_f of the front tyre; it matters to the ground front alone; in SI in the range [1e-06, 10]; if left out: wheel_radius */
      front_wheel_radius?: Length;
      /** level: the frame stays level and the ground horizontal below the rear wheel; front: the front axle stays where it is at full extension, and the ground is the line below both wheels */
      ground: 'level' | 'front';
      /** name of a point that exactly two bodies share, frame or moving */
      joint: string;
      /** name of a moving body that only two pivots, eyes of the shock or points of slots load: wheel, caliper, chainring and idler, where they load it, are on other bodies */
      link: string;
      /** [x in front of the bottom bracket, height above the ground] of bike and rider at full extension; it moves with the frame. x from −10 m to 10 m, height from 1 µm to 10 m */
      mass_centre: [Length, Length];
      /** the suspension */
      mechanism?: Mechanism;
      /** of the ground on the tyre, square to the ground; in SI in the range [1e-09, 1e+06] */
      up: Force;
      /** R of the rear tyre, taken as rigid; in SI in the range [1e-06, 10] */
      wheel_radius: Length;
    };
    answer: {
      /** direction of F from x, counter-clockwise, more than −180° and up to 180°; that of a force of 0 is not defined */
      joint_angle: Angle[];
      /** size of the force F on the first body at the joint */
      joint_force: Force[];
      /** along the link, negative where it is pushed together */
      link_tension: Force[];
      /** of the shock, pushing its eyes apart */
      shock_force: Force[];
    };
  };
  /** A spring seen at the wheel through a curve. */
  'linkage.wheel': {
    given: {
      /** wheel travels w; outside 0 to the travel at which curve or spring ends the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** of the wheel */
      curve?: Curve;
      /** of the spring */
      law?: Law;
    };
    answer: {
      /** work done on the spring from full extension */
      energy: Energy[];
      /** vertical, at each travel */
      force: Force[];
      /** dF/dw */
      rate: Stiffness[];
    };
  };
  /** What the tolerances of all holes together make of travel and lever ratio, to first order. */
  'linkage.tolerance': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** radius within which the centre of each hole lies that is not among holes; in SI in the range [0, 0.1]; if left out: 0 mm */
      every?: Length;
      /** of single holes, each once; if left out: each hole has the tolerance every */
      holes?: HoleTolerance[];
      /** the suspension */
      mechanism?: Mechanism;
    };
    answer: {
      /** likewise */
      lever_ratio_root_sum_square: number[];
      /** worst case of the lever ratio */
      lever_ratio_worst: number[];
      /** likewise, if the holes are off independently */
      travel_root_sum_square: Length[];
      /** worst case of the travel at each stroke, to either side */
      travel_worst: Length[];
      /** of the hole with the greatest effect on the lever ratio, by itself */
      worst_effect: number[];
      /** direction in which that hole raises the lever ratio most, counter-clockwise from x, from −180° to 180° */
      worst_towards: Angle[];
    };
  };
  /** The polynomial through readings of travel over stroke, and how sure it is. */
  'linkage.fit': {
    given: {
      /** strokes s of the shock; outside 0 to the full stroke the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** sᵢ of the readings, as the form table says of the method measured */
      stroke: Length[];
      /** wᵢ, likewise; as many */
      travel: Length[];
    };
    answer: {
      /** LR = dw/ds of the polynomial, at each stroke */
      lever_ratio: number[];
      /** its standard error, at each stroke */
      lever_ratio_error: number[];
      /** standard error of one reading; n without zero points */
      reading_error: Length;
      /** of rᵢ = wᵢ − w(sᵢ), over the n readings that are no zero point */
      residual_rms: Length;
    };
  };
  /** Wheel loads and sprung loads of rider and bike on level ground. */
  'sag.loads': {
    given: {
      /** of the whole bike; in SI in the range (0, ∞) */
      bike_mass: Mass;
      /** part of the bike's own weight on the rear wheel with nobody on it; it has no effect here; if left out: not known */
      bike_rear_share?: number;
      /** H_b, of the bottom bracket's centre above the ground, at full extension; in SI in the range [0.001, 10]; if left out: not known */
      bottom_bracket_height?: Length;
      /** ℓ, distance of the bottom bracket's centre from the rear axle, at full extension; more than it is above or below that axle; in SI in the range [0.001, 10]; if left out: not known */
      chainstay_length?: Length;
      /** o, distance of the front axle from the steering axis, at right angles to it, positive ahead of it; for the trail of a fork; in SI in the range [-1, 1]; if left out: not known */
      fork_offset?: Length;
      /** what a scale under the front wheel shows with the rider on; in SI in the range (0, ∞); if left out: q is given otherwise */
      front_scale?: Mass;
      /** R_f, of the front wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      front_wheel_radius?: Length;
      /** of rider and bike together, horizontal; less than the wheelbase; q is this over the wheelbase; in SI in the range (0, ∞); if left out: q is given otherwise */
      mass_centre_behind_front_axle?: Length;
      /** H, height of the mass centre of what the springs carry above the ground, at full extension; in SI in the range (0, ∞); if left out: it is not needed */
      mass_centre_height?: Length;
      /** what a scale under the rear wheel shows with the rider on; in SI in the range (0, ∞); if left out: q is given otherwise */
      rear_scale?: Mass;
      /** q, part of the total weight on the rear wheel of the level bike; if left out: the mass centre or the scales are given */
      rear_share?: number;
      /** R_r, of the rear wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      rear_wheel_radius?: Length;
      /** of the rider, dressed and packed to ride; in SI in the range (0, ∞); if left out: front_scale and rear_scale say what both weigh together */
      rider_mass?: Mass;
      /** m_f, part of bike_mass at the front that the spring does not carry; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung_front?: Mass;
      /** m_r, the same at the rear; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung_rear?: Mass;
      /** rolling radius of both wheels; in SI in the range [0.001, 10]; if left out: it is not needed, or both of the next two are given */
      wheel_radius?: Length;
      /** L, horizontal distance of the axles; needed too with mass_centre_height; in SI in the range (0, ∞); if left out: it is not needed */
      wheelbase?: Length;
    };
    answer: {
      /** sprung, at the front */
      front_load: Force;
      /** of the front wheel on the ground */
      front_wheel_load: Force;
      /** sprung, at the rear */
      rear_load: Force;
      /** q */
      rear_share: number;
      /** of the rear wheel on the ground */
      rear_wheel_load: Force;
    };
  };
  /** Sprung loads of a mass that is shared between the wheels as rider and bike are, and those of rider and bike shared otherwise. */
  'sag.sprung': {
    given: {
      /** of the whole bike; in SI in the range (0, ∞) */
      bike_mass: Mass;
      /** part of the bike's own weight on the rear wheel with nobody on it; it has no effect here; if left out: not known */
      bike_rear_share?: number;
      /** H_b, of the bottom bracket's centre above the ground, at full extension; in SI in the range [0.001, 10]; if left out: not known */
      bottom_bracket_height?: Length;
      /** ℓ, distance of the bottom bracket's centre from the rear axle, at full extension; more than it is above or below that axle; in SI in the range [0.001, 10]; if left out: not known */
      chainstay_length?: Length;
      /** o, distance of the front axle from the steering axis, at right angles to it, positive ahead of it; for the trail of a fork; in SI in the range [-1, 1]; if left out: not known */
      fork_offset?: Length;
      /** what a scale under the front wheel shows with the rider on; in SI in the range (0, ∞); if left out: q is given otherwise */
      front_scale?: Mass;
      /** R_f, of the front wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      front_wheel_radius?: Length;
      /** m, of whatever stands on both wheels together; in SI in the range (0, ∞) */
      mass: Mass;
      /** of rider and bike together, horizontal; less than the wheelbase; q is this over the wheelbase; in SI in the range (0, ∞); if left out: q is given otherwise */
      mass_centre_behind_front_axle?: Length;
      /** H, height of the mass centre of what the springs carry above the ground, at full extension; in SI in the range (0, ∞); if left out: it is not needed */
      mass_centre_height?: Length;
      /** what a scale under the rear wheel shows with the rider on; in SI in the range (0, ∞); if left out: q is given otherwise */
      rear_scale?: Mass;
      /** q, part of the total weight on the rear wheel of the level bike; if left out: the mass centre or the scales are given */
      rear_share?: number;
      /** R_r, of the rear wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      rear_wheel_radius?: Length;
      /** of the rider, dressed and packed to ride; in SI in the range (0, ∞); if left out: front_scale and rear_scale say what both weigh together */
      rider_mass?: Mass;
      /** q′, another part of the weight on the rear wheel */
      share: number;
      /** m_f, part of bike_mass at the front that the spring does not carry; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung_front?: Mass;
      /** m_r, the same at the rear; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung_rear?: Mass;
      /** rolling radius of both wheels; in SI in the range [0.001, 10]; if left out: it is not needed, or both of the next two are given */
      wheel_radius?: Length;
      /** L, horizontal distance of the axles; needed too with mass_centre_height; in SI in the range (0, ∞); if left out: it is not needed */
      wheelbase?: Length;
    };
    answer: {
      /** sprung, at the front; less than 0 where the wheel carries less than its unsprung mass */
      front_load: Force;
      /** of rider and bike, or of what the scales show, shared otherwise */
      front_load_shared: Force;
      /** the same at the rear */
      rear_load: Force;
      /** the same at the rear */
      rear_load_shared: Force;
      /** rider_mass; where it is left out what the scales show beyond bike_mass */
      rider: Mass;
    };
  };
  /** Where an end of the bike comes to rest under a load. */
  'sag.settle': {
    given: {
      /** of the wheel */
      curve?: Curve;
      /** f, dry, at the spring; in SI in the range [0, 1e+12]; if left out: 0 N */
      friction?: Force;
      /** of the spring */
      law?: Law;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
    };
    answer: {
      /** of small undamped bounce; 0 for a wheel rate that is not more than 0 */
      frequency: Frequency;
      /** w over the full wheel travel of the curve */
      sag: number;
      /** s over the full stroke of the curve */
      shock_sag: number;
      /** s, of the shock or along the stanchion */
      stroke: Length;
      /** w, vertical wheel travel */
      travel: Length;
      /** greatest such travel */
      travel_high: Length;
      /** least travel at which friction may hold the wheel */
      travel_low: Length;
      /** at the rest */
      wheel_rate: Stiffness;
    };
  };
  /** The coil spring that brings an end exactly to a target. */
  'sag.rate': {
    given: {
      /** of the wheel */
      curve?: Curve;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
      /** compression of the spring at full extension; in SI in the range [0, ∞); if left out: 0 mm */
      preload?: Length;
      /** target: vertical wheel travel at rest over full wheel travel W; at least a millionth */
      sag: number;
    };
    answer: {
      /** k of the spring */
      rate: Stiffness;
      /** P·LR(s*) */
      spring_force: Force;
      /** s* */
      stroke: Length;
    };
  };
  /** The fill that brings an end with an air spring to a target. */
  'sag.fill': {
    given: {
      /** the spring; its exponent should be 1 */
      airspring?: AirspringUnfilled;
      /** of the wheel */
      curve?: Curve;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
      /** target: vertical wheel travel at rest over full wheel travel W; at least a millionth */
      sag: number;
    };
    answer: {
      /** airspring.fill for the force P·LR(s*) at the stroke s* = s(sag·W) */
      fill: GaugePressure;
    };
  };
  /** airspring.calibrate behind a curve: the fill that brings an end to a target, from readings of gauge and ring under loads at the wheel. */
  'sag.calibrate': {
    given: {
      /** p_a; in SI in the range [1000, 1e+06] */
      ambient: AbsolutePressure;
      /** of the wheel */
      curve?: Curve;
      /** standard error of a fill; in SI in the range [0, 1e+08]; if left out: 0: the gauge is exact */
      gauge_error?: GaugePressure;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
      /** whether the spring has a negative chamber that fills itself */
      negative_chamber: boolean;
      /** of the area A_o on which the ambient presses: the bore without a negative chamber, the shaft with one; in SI in the range [1e-06, 1] */
      outside_diameter: Length;
      /** in any order; at two different strokes or more, at four with a negative chamber */
      readings: LoadReading[];
      /** standard error of a stroke; the answer depends on it only beside a gauge_error; in SI in the range [1e-09, 10]; if left out: 1 mm */
      ring_error?: Length;
      /** target: vertical wheel travel at rest over full wheel travel W; at least a millionth */
      sag: number;
    };
    answer: {
      /** airspring.calibrate for the force P·LR(s*) at the stroke s* = s(sag·W), the force of a reading being load·LR(stroke) */
      fill: GaugePressure;
    };
  };
  /** The load that a measured stroke implies, and the spring or fill that would put it on target. */
  'sag.correct': {
    given: {
      /** an air spring that is fitted; if left out: rate is given */
      airspring?: AirspringFilled;
      /** of the wheel */
      curve?: Curve;
      /** at which the end stands; less than the curve's stroke and the air spring's travel; in SI in the range (0, ∞) */
      measured_stroke: Length;
      /** of the coil spring, now and then; none beside an airspring; in SI in the range [0, ∞); if left out: 0 mm */
      preload?: Length;
      /** of a coil spring that is fitted; in SI in the range (0, ∞); if left out: airspring is given */
      rate?: Stiffness;
      /** target: vertical wheel travel at rest over full wheel travel W; at least a millionth */
      sag: number;
    };
    answer: {
      /** sag.fill for that load */
      fill?: GaugePressure;
      /** sprung, at the wheel */
      load: Force;
      /** sag.rate for that load */
      rate?: Stiffness;
    };
  };
  /** The rider masses that a range of coil springs suits at one end of a bike. */
  'sag.bands': {
    given: {
      /** M_b, of the whole bike; in SI in the range (0, ∞) */
      bike_mass: Mass;
      /** of the wheel */
      curve?: Curve;
      /** which end */
      end: 'front' | 'rear';
      /** the same for all; in SI in the range [0, ∞); if left out: 0 mm */
      preload?: Length;
      /** kᵢ, rising; in SI in the range (0, ∞) */
      rates: Stiffness[];
      /** q, part of the total weight on the rear wheel; at least a millionth is left for the end */
      rear_share: number;
      /** target: vertical wheel travel at rest over full wheel travel W; at least a millionth */
      sag: number;
      /** m_u at this end; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung?: Mass;
    };
    answer: {
      /** of the rider for whom springs i and i + 1 miss the target by equal wheel travels u, the softer over it and the harder under it; one fewer than rates */
      edge_mass: Mass[];
      /** of the rider who puts spring i exactly on target */
      ideal_mass: Mass[];
    };
  };
  /** The energy that an end takes up to the end of its travel, and the drop that uses it up. */
  'sag.reserve': {
    given: {
      /** of the wheel */
      curve?: Curve;
      /** of the spring */
      law?: Law;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
    };
    answer: {
      /** h, undamped, the wheel staying on the ground */
      drop_height: Length;
      /** E of the spring over the whole travel W_e, at which curve or spring ends */
      energy: Energy;
      /** at the wheel at the end of the travel */
      full_force: Force;
    };
  };
  /** How one end of the bike takes a drop, from touching the ground at full extension to its deepest travel. */
  'sag.landing': {
    given: {
      /** of the wheel */
      curve?: Curve;
      /** c at the wheel, vertical, the same in both directions; at most twenty times critical, see the refusals; in SI in the range [0, ∞); if left out: 0 N·s/m */
      damping?: Damping;
      /** h of the fall before the wheel touches the ground; in SI in the range [0, 1000] */
      drop_height: Length;
      /** of the spring */
      law?: Law;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
    };
    answer: {
      /** that the damper takes */
      damper_work: Energy;
      /** kinetic energy at the end of the travel; 0 where the wheel stops before */
      energy_left: Energy;
      /** of the spring at the wheel, at that travel */
      force: Force;
      /** the most that spring and damper together push at the wheel on the way, the stop excluded */
      peak_force: Force;
      /** from touching the ground to that travel */
      time: Time;
      /** deepest, of the wheel */
      travel: Length;
      used: number;
    };
  };
  /** The damping coefficient at the wheel for a ratio of critical damping. */
  'sag.damping': {
    given: {
      /** ζ, of critical damping */
      damping_ratio: number;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
      /** k_w; in SI in the range (0, ∞) */
      wheel_rate: Stiffness;
    };
    answer: {
      damping: Damping;
    };
  };
  /** The load that the reading of a ring implies, and its bounds. */
  'sag.implied': {
    given: {
      /** of the wheel */
      curve?: Curve;
      /** e, the most that the ring may be off to either side; less than the distance of s from either end of the travel; in SI in the range (0, ∞) */
      error: Length;
      /** f, dry, at the spring; in SI in the range [0, 1e+12]; if left out: 0 N */
      friction?: Force;
      /** of the spring */
      law?: Law;
      /** s that the ring shows, of the shock or along the stanchion; less than the end of the travel of curve and spring; in SI in the range (0, ∞) */
      stroke: Length;
    };
    answer: {
      /** sprung, at the wheel */
      load: Force;
      /** greatest that the ring agrees with */
      load_high: Force;
      /** least that the ring agrees with, not below 0 */
      load_low: Force;
    };
  };
  /** How the whole bike rests when both ends settle together, on level ground or a slope, rolling freely, braked or driven. */
  'sag.whole': {
    given: {
      /** of the whole bike; in SI in the range (0, ∞) */
      bike_mass: Mass;
      /** part of the bike's own weight on the rear wheel with nobody on it; it has no effect here; if left out: not known */
      bike_rear_share?: number;
      /** H_b, of the bottom bracket's centre above the ground, at full extension; in SI in the range [0.001, 10]; if left out: not known */
      bottom_bracket_height?: Length;
      /** ℓ, distance of the bottom bracket's centre from the rear axle, at full extension; more than it is above or below that axle; in SI in the range [0.001, 10]; if left out: not known */
      chainstay_length?: Length;
      /** d, driving force of the ground on the rear wheel over the weight of rider and bike; if left out: 0 */
      driving?: number;
      /** o, distance of the front axle from the steering axis, at right angles to it, positive ahead of it; for the trail of a fork; in SI in the range [-1, 1]; if left out: not known */
      fork_offset?: Length;
      /** front end */
      front?: End;
      /** b_f, braking force of the ground on the front wheel over the weight of rider and bike; if left out: 0 */
      front_braking?: number;
      /** what a scale under the front wheel shows with the rider on; in SI in the range (0, ∞); if left out: q is given otherwise */
      front_scale?: Mass;
      /** R_f, of the front wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      front_wheel_radius?: Length;
      /** of rider and bike together, horizontal; less than the wheelbase; q is this over the wheelbase; in SI in the range (0, ∞); if left out: q is given otherwise */
      mass_centre_behind_front_axle?: Length;
      /** H, height of the mass centre of what the springs carry above the ground, at full extension; in SI in the range (0, ∞) */
      mass_centre_height: Length;
      /** rear end */
      rear?: End;
      /** b_r, the same on the rear wheel; if left out: 0 */
      rear_braking?: number;
      /** what a scale under the rear wheel shows with the rider on; in SI in the range (0, ∞); if left out: q is given otherwise */
      rear_scale?: Mass;
      /** q, part of the total weight on the rear wheel of the level bike; if left out: the mass centre or the scales are given */
      rear_share?: number;
      /** R_r, of the rear wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      rear_wheel_radius?: Length;
      /** of the rider, dressed and packed to ride; in SI in the range (0, ∞); if left out: front_scale and rear_scale say what both weigh together */
      rider_mass?: Mass;
      /** γ, of the ground from the horizontal, positive where the bike climbs; in SI in the range [-1.0471975511965976, 1.0471975511965976]; if left out: 0 */
      slope?: Angle;
      /** m_f, part of bike_mass at the front that the spring does not carry; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung_front?: Mass;
      /** m_r, the same at the rear; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung_rear?: Mass;
      /** rolling radius of both wheels; in SI in the range [0.001, 10]; if left out: both of the next two are given */
      wheel_radius?: Length;
      /** L, horizontal distance of the axles at full extension on level ground; in SI in the range (0, 1e+09] */
      wheelbase: Length;
    };
    answer: {
      /** of its centre above the ground */
      bottom_bracket_height?: Length;
      /** w_f over full wheel travel, held against the frame; 0 for an end that stays topped out; less than 1 for an end whose spring reaches its stop before the curve ends */
      front_sag: number;
      /** w_f */
      front_travel: Length;
      /** N_f, of the front wheel on the ground, at right angles to it */
      front_wheel_load: Force;
      /** of the fork from the ground */
      head_angle?: Angle;
      /** θ of the frame from the ground, positive where the rear sags more */
      pitch: Angle;
      /** w_r likewise */
      rear_sag: number;
      /** part of the load of both wheels on the ground on the rear one, so pitched */
      rear_share: number;
      /** w_r */
      rear_travel: Length;
      /** N_r likewise */
      rear_wheel_load: Force;
      /** from where the steering axis meets the ground back to below the front axle */
      trail?: Length;
      /** along the ground */
      wheelbase: Length;
    };
  };
  /** What the springs of the whole bike carry at the rest of sag.whole. */
  'sag.stance': {
    given: {
      /** of the whole bike; in SI in the range (0, ∞) */
      bike_mass: Mass;
      /** part of the bike's own weight on the rear wheel with nobody on it; it has no effect here; if left out: not known */
      bike_rear_share?: number;
      /** H_b, of the bottom bracket's centre above the ground, at full extension; in SI in the range [0.001, 10]; if left out: not known */
      bottom_bracket_height?: Length;
      /** ℓ, distance of the bottom bracket's centre from the rear axle, at full extension; more than it is above or below that axle; in SI in the range [0.001, 10]; if left out: not known */
      chainstay_length?: Length;
      /** d, driving force of the ground on the rear wheel over the weight of rider and bike; if left out: 0 */
      driving?: number;
      /** o, distance of the front axle from the steering axis, at right angles to it, positive ahead of it; for the trail of a fork; in SI in the range [-1, 1]; if left out: not known */
      fork_offset?: Length;
      /** front end */
      front?: End;
      /** b_f, braking force of the ground on the front wheel over the weight of rider and bike; if left out: 0 */
      front_braking?: number;
      /** what a scale under the front wheel shows with the rider on; in SI in the range (0, ∞); if left out: q is given otherwise */
      front_scale?: Mass;
      /** R_f, of the front wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      front_wheel_radius?: Length;
      /** of rider and bike together, horizontal; less than the wheelbase; q is this over the wheelbase; in SI in the range (0, ∞); if left out: q is given otherwise */
      mass_centre_behind_front_axle?: Length;
      /** H, height of the mass centre of what the springs carry above the ground, at full extension; in SI in the range (0, ∞) */
      mass_centre_height: Length;
      /** rear end */
      rear?: End;
      /** b_r, the same on the rear wheel; if left out: 0 */
      rear_braking?: number;
      /** what a scale under the rear wheel shows with the rider on; in SI in the range (0, ∞); if left out: q is given otherwise */
      rear_scale?: Mass;
      /** q, part of the total weight on the rear wheel of the level bike; if left out: the mass centre or the scales are given */
      rear_share?: number;
      /** R_r, of the rear wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      rear_wheel_radius?: Length;
      /** of the rider, dressed and packed to ride; in SI in the range (0, ∞); if left out: front_scale and rear_scale say what both weigh together */
      rider_mass?: Mass;
      /** γ, of the ground from the horizontal, positive where the bike climbs; in SI in the range [-1.0471975511965976, 1.0471975511965976]; if left out: 0 */
      slope?: Angle;
      /** m_f, part of bike_mass at the front that the spring does not carry; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung_front?: Mass;
      /** m_r, the same at the rear; in SI in the range [0, ∞); if left out: 0 kg */
      unsprung_rear?: Mass;
      /** rolling radius of both wheels; in SI in the range [0.001, 10]; if left out: both of the next two are given */
      wheel_radius?: Length;
      /** L, horizontal distance of the axles at full extension on level ground; in SI in the range (0, 1e+09] */
      wheelbase: Length;
    };
    answer: {
      /** load of the front wheel on the ground less the weight of what the front springs do not carry, square to the ground */
      front_load: Force;
      /** likewise */
      rear_load: Force;
    };
  };
  /** How frame and wheels of a bike lie at a pair of strokes, on the line below both wheels. */
  'sag.geometry': {
    given: {
      /** H_b, of the bottom bracket's centre above the ground, at full extension; in SI in the range [0.001, 10]; if left out: not known, and the height is not given */
      bottom_bracket_height?: Length;
      /** ℓ, distance of the bottom bracket's centre from the rear axle, at full extension; more than it is above or below that axle; in SI in the range [0.001, 10]; if left out: not known, and the height is not given */
      chainstay_length?: Length;
      /** o, distance of the front axle from the steering axis, at right angles to it, positive ahead of it; in SI in the range [-1, 1]; if left out: not known, and the trail is not given */
      fork_offset?: Length;
      /** of the front wheel */
      front?: Curve;
      /** s_f, along the stanchion or of the shock, up to that of the curve; in SI in the range [0, ∞); if left out: 0 mm */
      front_stroke?: Length;
      /** R_f, of the front wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      front_wheel_radius?: Length;
      /** of the rear wheel */
      rear?: Curve;
      /** s_r, likewise at the rear; in SI in the range [0, ∞); if left out: 0 mm */
      rear_stroke?: Length;
      /** R_r, of the rear wheel; in SI in the range [0.001, 10]; if left out: wheel_radius */
      rear_wheel_radius?: Length;
      /** rolling radius of both wheels; in SI in the range [0.001, 10]; if left out: both of the next two are given */
      wheel_radius?: Length;
      /** L, horizontal distance of the axles at full extension on level ground; in SI in the range (0, 1e+09] */
      wheelbase: Length;
    };
    answer: {
      /** of its centre above the ground */
      bottom_bracket_height?: Length;
      /** w_f over the full travel of the front curve */
      front_sag: number;
      /** w_f, vertical in the frame */
      front_travel: Length;
      /** of the fork from the ground */
      head_angle?: Angle;
      /** θ of the frame from the ground, positive where the rear sags more */
      pitch: Angle;
      /** w_r over the full travel of the rear curve */
      rear_sag: number;
      /** w_r likewise */
      rear_travel: Length;
      /** from where the steering axis meets the ground back to below the front axle */
      trail?: Length;
      /** along the ground */
      wheelbase: Length;
    };
  };
  /** The preload that brings an end with a coil spring exactly to a target. */
  'sag.preload': {
    given: {
      /** of the wheel */
      curve?: Curve;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
      /** k of the spring; in SI in the range (0, ∞) */
      rate: Stiffness;
      /** target: vertical wheel travel at rest over full wheel travel W; at least a millionth */
      sag: number;
    };
    answer: {
      /** compression of the spring at full extension; less than 0 for a spring that is too hard for any preload */
      preload: Length;
    };
  };
  /** An end with an air spring at its rest, and what is left of its travel in a stroke too fast for the gas to exchange heat. */
  'sag.state': {
    given: {
      /** the spring; its exponent n is that of a fast stroke, and standing still it is 1 */
      airspring?: AirspringFilled;
      /** of the wheel */
      curve?: Curve;
      /** P, sprung load at the wheel, vertical; in SI in the range (0, ∞) */
      load: Force;
    };
    answer: {
      /** that the spring stores over travel_left in a fast stroke */
      energy_left: Energy;
      /** of small undamped bounce; 0 for a rate that is not more than 0 */
      fast_frequency: Frequency;
      /** of the spring about its rest in a fast stroke */
      fast_spring_rate: Stiffness;
      /** at the wheel, likewise */
      fast_wheel_rate: Stiffness;
      /** force at the wheel at the end of a fast stroke over the load */
      full_ratio: number;
      /** LR at the rest */
      lever_ratio: number;
      /** wheel travel at which it is */
      min_rate_travel: Length;
      /** least wheel rate over the travel, standing still */
      min_wheel_rate: Stiffness;
      /** s over the full stroke of the curve */
      shock_sag: number;
      /** of the spring at the rest, standing still */
      spring_rate: Stiffness;
      /** w, vertical wheel travel */
      travel: Length;
      /** of the wheel from the rest to the end of its travel */
      travel_left: Length;
    };
  };
  /** A damping at the wheel as its ratio to critical damping, and as the damping of the shock that makes it. */
  'sag.damper': {
    given: {
      /** c at the wheel; in SI in the range [1e-06, 1e+09] */
      damping: Damping;
      /** LR = dw/ds */
      lever_ratio: number;
      /** P, sprung load at the wheel; in SI in the range [1e-06, 1e+09] */
      load: Force;
      /** k_w; in SI in the range [1e-06, 1e+09] */
      wheel_rate: Stiffness;
    };
    answer: {
      /** over the speed of the shock */
      damping_at_shock: Damping;
      /** ζ; 1 is critical */
      damping_ratio: number;
    };
  };
  /** The forces at a wheel without a tyre that stays on the ground, at travels and their speeds, with dampers at the wheel and at the spring and with stops. */
  'sag.corner': {
    given: {
      /** of the wheel */
      curve?: Curve;
      /** c of a linear damper at the wheel; in SI in the range [0, 1e+09]; if left out: 0 */
      damping?: Damping;
      /** c_s of a linear damper at the spring; in SI in the range [0, 1e+09]; if left out: 0 */
      damping_at_shock?: Damping;
      /** of the spring */
      law?: Law;
      /** ẇ at each travel in m/s, positive in compression; as many; if left out: the lists are empty */
      speed?: number[];
      /** rate of the stops at the wheel beyond both ends of its travel, besides the spring's force there; in SI in the range [0, 1e+12]; if left out: 0: no stops, and the spring has the force of the nearer end */
      stops?: Stiffness;
      /** w of the wheel from full extension; beyond its range it is in the stops; in SI in the range [-1000, 1000]; if left out: the lists are empty */
      travel?: Length[];
    };
    answer: {
      /** of both dampers at the wheel */
      damper: Force[];
      /** of the ground on the wheel, whose own mass is left out; below 0 it would have to hold the wheel */
      ground: Force[];
      /** of the spring at the wheel, with the stops, at each travel */
      spring: Force[];
    };
  };
  /** A bike that comes down level onto both wheels: a body that heaves and pitches on two springs, dampers and tyres. And the same bike at rest. */
  'sag.drop': {
    given: {
      /** a, of the front axle before the mass centre; not 0 together with behind; in SI in the range [0, 1000]; if left out: 0 mm */
      ahead?: Length;
      /** times since the wheels touched the ground, rising, each from 0 to 10 s; in SI in the range [0, 10]; if left out: the lists are empty */
      at?: Time[];
      /** b, of the rear axle behind the mass centre; in SI in the range [0, 1000]; if left out: 0 mm */
      behind?: Length;
      /** h, of the fall before both wheels touch the ground; in SI in the range [0, 1]; if left out: 0 mm */
      drop_height?: Length;
      /** front end */
      front?: Corner;
      /** ρ, radius of gyration of the sprung mass in pitch; in SI in the range [0.001, 1000] */
      gyration: Length;
      /** m, sprung, with the rider; in SI in the range [1e-06, 1e+06] */
      mass: Mass;
      /** rear end */
      rear?: Corner;
    };
    answer: {
      /** that both dampers have taken since the wheels touched the ground */
      damper_work: Energy[];
      /** of the ground on the front wheel */
      front_force: Force[];
      /** w_f = u_f − (z + a·θ), of the wheel, at each time */
      front_travel: Length[];
      /** θ, positive nose up */
      pitch: Angle[];
      /** likewise at the rear */
      rear_force: Force[];
      /** w_r = u_r − (z − b·θ) */
      rear_travel: Length[];
      /** w_f at rest */
      rest_front_travel: Length;
      /** θ at rest */
      rest_pitch: Angle;
      /** w_r at rest */
      rest_rear_travel: Length;
    };
  };
  /** How fast a bike gains speed on a slope, braked or driven. */
  'sag.ground': {
    given: {
      /** d, driving force of the ground on the rear wheel over the weight of rider and bike; if left out: 0 */
      driving?: number;
      /** b_f, braking force of the ground on the front wheel over the weight of rider and bike; if left out: 0 */
      front_braking?: number;
      /** b_r, the same on the rear wheel; if left out: 0 */
      rear_braking?: number;
      /** γ, of the ground from the horizontal, positive where the bike climbs; in SI in the range [-1.0471975511965976, 1.0471975511965976]; if left out: 0 */
      slope?: Angle;
    };
    answer: {
      /** gain of speed along the ground over g₀, less than 0 where speed is lost */
      acceleration: number;
    };
  };
  /** A helical compression spring of round wire: rate, stress, lengths, frequency, buckling, tolerance. */
  'spring.coil': {
    given: {
      /** n, coils that take part in the compression; any fraction, never rounded; if left out: total_coils is given, and n = total_coils − dead coils of the ends */
      active_coils?: number;
      /** ρ of the wire; in SI in the range [0.001, 1e+06]; if left out: density of the material, or not known */
      density?: Density;
      /** E of the wire; more than G; in SI in the range [1, 1e+15]; if left out: E of the material, or not known */
      elastic_modulus?: Stress;
      /** ν of the buckling formula: buckled length over free length; 0.5 for both ends seated flat and parallel, 0.707 for one seated and one hinged, 1 for both hinged, 2 for one seated and one free; if left out: the outputs of buckling are not given */
      end_fixity?: number;
      /** how the last coils are finished; see the table of ends; if left out: squared_ground */
      ends?: 'plain' | 'plain_ground' | 'squared' | 'squared_ground';
      /** L₀, length without a load; more than the solid length; in SI in the range [1e-06, 1000]; if left out: the free length is not known, and what depends on it is not given */
      free_length?: Length;
      /** D − d, inside the wire, in the free state; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
      inner_diameter?: Length;
      /** axial force on the spring, compressive, for the outputs that take a load; in SI in the range (0, ∞); if left out: those outputs are not given */
      load?: Force;
      /** name or alias of a material in materials.json, compared by letters and digits alone and without regard to capitals; its moduli are those of the row whose wire_from < d ≤ wire_to (a bound that a row lacks does not bind). It gives G, and E and density where the case gives none; if left out: shear_modulus is given */
      material?: string;
      /** D, diameter of the coil between the centres of the wire; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
      mean_diameter?: Length;
      /** D + d, over the wire, in the free state; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
      outer_diameter?: Length;
      /** G of the wire; in SI in the range [1, 1e+15]; if left out: material is given, and G is that of the material for the wire diameter */
      shear_modulus?: Stress;
      /** N, active and dead coils together; it leaves at least 0.001 active coils; if left out: active_coils is given, and N = active_coils + dead coils of the ends */
      total_coils?: number;
      /** d, diameter of the wire; less than the mean diameter; in SI in the range [1e-06, 1000] */
      wire_diameter: Length;
    };
    answer: {
      /** n */
      active_coils: number;
      /** Bergsträsser's stress factor */
      bergstrasser: number;
      /** travel from free at which the spring bows out sideways; it may be beyond solid */
      buckling_travel?: Length;
      /** ± of the free length, grade 1: what the part of load_tolerance_1 that no load changes makes of it at the rate k */
      free_length_tolerance_1?: Length;
      /** grade 2 */
      free_length_tolerance_2?: Length;
      /** grade 3 */
      free_length_tolerance_3?: Length;
      /** α, climb of the wire in the free state */
      helix_angle?: Angle;
      /** spring index */
      index: number;
      /** ± of the load at a length, grade 1 */
      load_tolerance_1?: Force;
      /** grade 2 */
      load_tolerance_2?: Force;
      /** grade 3 */
      load_tolerance_3?: Force;
      /** of the wire, of that length */
      mass?: Mass;
      /** D, whichever diameter was given */
      mean_diameter: Length;
      /** outer diameter when solid, ends kept from turning */
      outer_diameter_solid?: Length;
      /** p, free distance of neighbouring active coils along the axis, centre to centre */
      pitch?: Length;
      /** from the torsion of the wire alone */
      rate: Stiffness;
      /** with the climb α of the wire, ends free to turn about the axis */
      rate_ends_free?: Stiffness;
      /** the same, ends kept from turning */
      rate_ends_held?: Stiffness;
      /** at which the coils touch */
      solid_force?: Force;
      /** with all coils touching */
      solid_length: Length;
      /** by Bergsträsser's factor at the force that makes the spring solid */
      solid_stress?: Stress;
      /** from free to solid */
      solid_travel?: Length;
      /** largest L₀/D that buckles at no travel */
      stable_slenderness?: number;
      /** greatest shear stress under the load by Bergsträsser's factor */
      stress?: Stress;
      /** torsion of a straight bar under the load */
      stress_uncorrected?: Stress;
      /** the same by Wahl's factor */
      stress_wahl?: Stress;
      /** lowest natural frequency between two fixed seats */
      surge_frequency?: Frequency;
      /** N = n + dead coils of the ends */
      total_coils: number;
      /** compression under the load; not cut off at solid */
      travel?: Length;
      /** Wahl's stress factor */
      wahl: number;
      /** of the wire as if the coils were close: the climb of the helix is left out */
      wire_length: Length;
    };
  };
  /** Least tensile strength of spring wire of a material, by its diameter. */
  'spring.strength': {
    given: {
      /** name or alias of a material in materials.json, compared by letters and digits alone and without regard to capitals */
      material: string;
      /** d; within a row of the material; in SI in the range (0, ∞) */
      wire_diameter: Length;
    };
    answer: {
      /** least that the standard guarantees */
      tensile_strength: Stress;
    };
  };
  /** Shear modulus at a temperature. */
  'spring.warm': {
    given: {
      /** r, relative loss per kelvin; if left out: 0 */
      coefficient?: number;
      /** G₂₀, at 20 °C; in SI in the range [1, 1e+15] */
      shear_modulus: Stress;
      /** T of the wire; in SI in the range [0.001, 10000] */
      temperature: Temperature;
    };
    answer: {
      /** G at T */
      shear_modulus: Stress;
    };
  };
  /** Rate of a spring from what was measured on it, and its standard uncertainty. */
  'spring.caliper': {
    given: {
      /** n */
      active_coils: number;
      /** u_n; if left out: 0 */
      coil_uncertainty?: number;
      /** r, of the readings of wire and diameter; if left out: 0 */
      correlation?: number;
      /** u_o, of the outer or inner diameter; in SI in the range [0, ∞); if left out: 0 */
      diameter_uncertainty?: Length;
      /** ID, D = ID + d; in SI in the range (0, ∞); if left out: outer_diameter is given */
      inner_diameter?: Length;
      /** u_G; in SI in the range [0, ∞); if left out: 0 */
      modulus_uncertainty?: Stress;
      /** OD, D = OD − d; in SI in the range (0, ∞); if left out: inner_diameter is given */
      outer_diameter?: Length;
      /** G; in SI in the range (0, ∞) */
      shear_modulus: Stress;
      /** d; less than the mean diameter; in SI in the range (0, ∞) */
      wire_diameter: Length;
      /** u_d, one standard deviation, as are the next three; in SI in the range [0, ∞); if left out: 0 */
      wire_uncertainty?: Length;
    };
    answer: {
      /** name of the input with the largest variance of its own: wire_diameter, outer_diameter or inner_diameter, active_coils, shear_modulus; empty where all are 0; the first in this order of equal ones */
      dominant: string;
      /** D */
      mean_diameter: Length;
      rate: Stiffness;
      /** standard uncertainty of the rate */
      rate_uncertainty: Stiffness;
      relative_uncertainty: number;
    };
  };
  /** What each measurement adds to the uncertainty of a rate. */
  'spring.budget': {
    given: {
      /** n */
      active_coils: number;
      /** u_n; if left out: 0 */
      coil_uncertainty?: number;
      /** r, of the readings of wire and diameter; if left out: 0 */
      correlation?: number;
      /** u_o, of the outer or inner diameter; in SI in the range [0, ∞); if left out: 0 */
      diameter_uncertainty?: Length;
      /** ID, D = ID + d; in SI in the range (0, ∞); if left out: outer_diameter is given */
      inner_diameter?: Length;
      /** u_G; in SI in the range [0, ∞); if left out: 0 */
      modulus_uncertainty?: Stress;
      /** OD, D = OD − d; in SI in the range (0, ∞); if left out: inner_diameter is given */
      outer_diameter?: Length;
      /** G; in SI in the range (0, ∞) */
      shear_modulus: Stress;
      /** d; less than the mean diameter; in SI in the range (0, ∞) */
      wire_diameter: Length;
      /** u_d, one standard deviation, as are the next three; in SI in the range [0, ∞); if left out: 0 */
      wire_uncertainty?: Length;
    };
    answer: {
      /** wire_diameter; outer_diameter or inner_diameter; active_coils; shear_modulus; correlation: always these five, in this order, as the lists below */
      input: string[];
      /** standard uncertainty of the input as a fraction of it; 0 for the correlation */
      relative: number[];
      /** relative change of the rate by one of the input; 0 for the correlation */
      sensitivity: number[];
      /** of the whole variance; 0 for all where that is not more than 0 */
      share: number[];
      /** of the relative rate; that of the correlation may be negative */
      variance: number[];
    };
  };
  /** Rate of a spring from readings of force over travel, by ordinary least squares of force on travel. */
  'spring.readings': {
    given: {
      /** F of each reading, as many as travels */
      force: Force[];
      /** x of each reading, in any order, taken as exact; three or more, not all equal */
      travel: Length[];
    };
    answer: {
      /** of the line at travel 0 */
      force_at_zero: Force;
      /** one standard deviation */
      force_at_zero_standard_error: Force;
      /** slope */
      rate: Stiffness;
      /** one standard deviation */
      rate_standard_error: Stiffness;
      /** scatter of one reading */
      residual_deviation: Force;
      residual_rms: Force;
    };
  };
  /** Whether a coil spring is fit for the place where it is to go. */
  'spring.place': {
    given: {
      /** n, coils that take part in the compression; any fraction, never rounded; if left out: total_coils is given, and n = total_coils − dead coils of the ends */
      active_coils?: number;
      /** ρ of the wire; in SI in the range [0.001, 1e+06]; if left out: density of the material, or not known */
      density?: Density;
      /** E of the wire; more than G; in SI in the range [1, 1e+15]; if left out: E of the material, or not known */
      elastic_modulus?: Stress;
      /** ν of the buckling formula: buckled length over free length; 0.5 for both ends seated flat and parallel, 0.707 for one seated and one hinged, 1 for both hinged, 2 for one seated and one free; if left out: the outputs of buckling are not given */
      end_fixity?: number;
      /** how the last coils are finished; see the table of ends; if left out: squared_ground */
      ends?: 'plain' | 'plain_ground' | 'squared' | 'squared_ground';
      /** L₀, length without a load; more than the solid length; needed here; in SI in the range [1e-06, 1000] */
      free_length: Length;
      /** D − d, inside the wire, in the free state; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
      inner_diameter?: Length;
      /** axial force on the spring, compressive, for the outputs that take a load; in SI in the range (0, ∞); if left out: those outputs are not given */
      load?: Force;
      /** name or alias of a material in materials.json, compared by letters and digits alone and without regard to capitals; its moduli are those of the row whose wire_from < d ≤ wire_to (a bound that a row lacks does not bind). It gives G, and E and density where the case gives none; if left out: shear_modulus is given */
      material?: string;
      /** D, diameter of the coil between the centres of the wire; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
      mean_diameter?: Length;
      /** D + d, over the wire, in the free state; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
      outer_diameter?: Length;
      /** where it is to go */
      place?: Place;
      /** G of the wire; in SI in the range [1, 1e+15]; if left out: material is given, and G is that of the material for the wire diameter */
      shear_modulus?: Stress;
      /** N, active and dead coils together; it leaves at least 0.001 active coils; if left out: active_coils is given, and N = active_coils + dead coils of the ends */
      total_coils?: number;
      /** d, diameter of the wire; less than the mean diameter; in SI in the range [1e-06, 1000] */
      wire_diameter: Length;
    };
    answer: {
      /** codes of the criteria that can be judged, in this order: goes_solid, little_reserve_en, little_reserve, rubs_inside, rubs_outside, bows, stress_unset, stress_preset, stress_when_solid_en */
      criteria: string[];
      /** goes_solid fails unless it is less than solid_travel */
      full_travel: Length;
      /** between the coils at full travel, all together; little_reserve_en fails where it is less than least_gap */
      gap_left: Length;
      /** reserve of EN 13906-1 */
      least_gap: Length;
      /** little_reserve fails where solid_travel is less */
      least_solid_travel: Length;
      /** by EN 13906-1; rubs_outside fails unless it is less than the tube */
      outer_diameter_solid?: Length;
      /** from free to solid */
      solid_travel: Length;
      /** at full travel or at solid, whichever is less, by Bergsträsser's factor */
      stress?: Stress;
      /** stress_preset fails where stress is more */
      stress_preset_limit?: Stress;
      /** uncorrected, at solid; stress_when_solid_en fails where it is more than its limit */
      stress_solid?: Stress;
      /** limit of EN 13906-1 */
      stress_solid_limit?: Stress;
      /** stress_unset fails where stress is more */
      stress_unset_limit?: Stress;
      /** passes or fails, of each */
      verdicts: string[];
    };
  };
  /** A spring of any kind, installed with a preload. */
  'spring.preloaded': {
    given: {
      /** x, travels from full extension; outside 0 to travel the nearer end counts; if left out: the lists are empty */
      at?: Length[];
      /** the spring */
      law?: Law;
      /** p, compression at full extension; less than the travel of the spring; in SI in the range [0, ∞); if left out: 0 mm */
      preload?: Length;
    };
    answer: {
      /** stored from full extension to each travel */
      energy: Energy[];
      /** at each travel */
      force: Force[];
      /** at each travel */
      rate: Stiffness[];
      /** to full compression */
      travel: Length;
    };
  };
  /** A spring's law: force, rate and energy at travels, or the travels at which it carries loads. */
  'spring.law': {
    given: {
      /** travels at which force, rate and energy are wanted; outside the law's travel the nearer end counts; if left out: the outputs at travels are not given */
      at?: Length[];
      /** the spring */
      law?: Law;
      /** loads for which the travel is wanted; if left out: the output travel is not given */
      load?: Force[];
    };
    answer: {
      /** ∫F dx from travel 0 */
      energy?: Energy[];
      /** F at each travel, resisting compression */
      force?: Force[];
      /** dF/dx at each travel */
      rate?: Stiffness[];
      /** x with F(x) = load, for each load */
      travel?: Length[];
    };
  };
  /** How probably each spring of a shelf is the one whose rate was measured. */
  'spring.identify': {
    given: {
      /** k, measured; in SI in the range (0, ∞) */
      rate: Stiffness;
      /** the springs, at most 1000 */
      shelf: Nominal[];
      /** u, its standard uncertainty; more than 0 where a tolerance of the shelf is 0; in SI in the range [0, ∞); if left out: 0 */
      uncertainty?: Stiffness;
    };
    answer: {
      /** between label and measurement, in standard deviations */
      distance: number[];
      /** place on the shelf, from 0, of each spring, the likeliest first */
      index: number[];
      /** that it is this one, given that it is one of the shelf */
      probability: number[];
      /** chance that a spring of this label measures at least so far off */
      surprise: number[];
    };
  };
  /** The coil of a wanted rate: its coils, or its diameter. */
  'spring.design': {
    given: {
      /** n, coils that take part in the compression; any fraction, never rounded; if left out: the coils are sought, or given by the other */
      active_coils?: number;
      /** how the last coils are finished; see the table of ends; if left out: squared_ground */
      ends?: 'plain' | 'plain_ground' | 'squared' | 'squared_ground';
      /** D − d, inside the wire, in the free state; in SI in the range [1e-06, 1000]; if left out: another diameter is given, or coils, and the diameter is sought */
      inner_diameter?: Length;
      /** D, diameter of the coil between the centres of the wire; in SI in the range [1e-06, 1000]; if left out: another diameter is given, or coils, and the diameter is sought */
      mean_diameter?: Length;
      /** D + d, over the wire, in the free state; in SI in the range [1e-06, 1000]; if left out: another diameter is given, or coils, and the diameter is sought */
      outer_diameter?: Length;
      /** k, wanted; in SI in the range (0, ∞) */
      rate: Stiffness;
      /** G of the wire; in SI in the range [1, 1e+15] */
      shear_modulus: Stress;
      /** N, active and dead coils together; it leaves at least 0.001 active coils; if left out: the coils are sought, or given by the other */
      total_coils?: number;
      /** d, diameter of the wire; less than the mean diameter; in SI in the range [1e-06, 1000] */
      wire_diameter: Length;
    };
    answer: {
      /** n */
      active_coils: number;
      /** D − d */
      inner_diameter: Length;
      /** D */
      mean_diameter: Length;
      /** D + d */
      outer_diameter: Length;
      /** (total coils + over)·d, by the ends */
      solid_length: Length;
      /** n and the dead coils of the ends */
      total_coils: number;
    };
  };
  /** A text read as a quantity of a kind. The case expects the same quantity in any unit of that kind. */
  'units.convert': {
    given: {
      /** kind of quantity */
      kind: 'length' | 'mass' | 'force' | 'stiffness' | 'gauge_pressure' | 'absolute_pressure' | 'stress' | 'volume' | 'area' | 'torque' | 'energy' | 'temperature' | 'angle' | 'frequency' | 'density' | 'time' | 'ratio_slope' | 'damping';
      /** the text of a quantity, as the grammar says */
      value: string;
    };
    answer: {
      /** the quantity that the text is, of the kind given; an answer may have it in any unit of the kind */
      value: string;
    };
  };
}

/** The name of a computation. */
export type Computation = keyof Computations;

/** What answers. */
export interface Version {
  library: string;
  dataset: string;
  /** Schema of the jobs that are read. */
  job: string;
  computations: Computation[];
}

/** pressure above vacuum; its symbols say so */
export type AbsolutePressure = string;

/** Conditions are the temperature of a spring's gas, and the altitude, which gives the ambient pressure. */
export interface AirspringConditions {
  /** above the sea, by the standard atmosphere; 0 is sea level; length in mm, cm, m, in, ft */
  altitude?: Length;
  /** from 200 K to 400 K; temperature in °C, K, °F */
  temperature?: Temperature;
}

/** FillBounds are the least and the greatest fill with which a spring can carry a force at a stroke, whatever its chambers: more fill means less stroke under a force, so readings on either side of the stroke are bounds. Each reading may be off by two standard errors of ring and gauge, about 95 of 100 for each. A bound is missing if no reading gives it, and both are if the readings contradict each other. */
export interface AirspringFillBounds {
  /** gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  high?: GaugePressure;
  /** gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  low?: GaugePressure;
}

/** An air spring with its fill. */
export interface AirspringFilled {
  /** p_a, pressure of the air around the spring; in SI in the range [1000, 1e+06] */
  ambient: AbsolutePressure;
  /** diameter of the piston of the positive chamber; in SI in the range [1e-06, 1] */
  bore: Length;
  /** n of p·Vⁿ over the stroke: 1 for a slow stroke or standing still */
  exponent: number;
  /** of the positive chamber at full extension, after slow cycling past the port; in SI in the range (0, 1e+08] */
  fill: GaugePressure;
  /** V_n0, volume of the negative chamber at full extension; in SI in the range [1e-09, 1]; if left out: there is no negative chamber */
  negative_volume?: Volume;
  /** oil in the positive chamber; in SI in the range [0, 1]; if left out: 0 */
  oil_volume?: Volume;
  /** x_t, travel at which the two chambers share their gas; less than the travel; in SI in the range [0, 10]; if left out: 0 mm: the port is at full extension */
  port_travel?: Length;
  /** volume of the empty positive chamber at full extension, before oil and spacers; in SI in the range [1e-09, 1] */
  positive_volume: Volume;
  /** fill of the second chamber at full extension; in SI in the range (0, 1e+08]; if left out: there is no second chamber */
  second_fill?: GaugePressure;
  /** V₂, of a second positive chamber behind a free piston on its stop; in SI in the range [1e-09, 1]; if left out: there is no second chamber */
  second_volume?: Volume;
  /** diameter of the shaft that the negative chamber is around; less than the bore; in SI in the range [1e-06, 1]; if left out: there is no negative chamber; without one a shaft has no effect */
  shaft?: Length;
  /** of one volume spacer; more than 0 where spacers are fitted; in SI in the range [0, 1]; if left out: 0 */
  spacer_volume?: Volume;
  /** how many spacers are fitted; in SI in the range [0, 1000]; if left out: 0 */
  spacers?: number;
  /** from full extension to full compression; in SI in the range [1e-06, 10] */
  travel: Length;
}

/** Spec is what is known of an air spring. Volumes are those at full extension. A spring of one chamber needs bore, travel, volume, fill, ambient and exponent; its shaft has no effect. Oil and volume spacers take up room in the positive chamber, which makes the end of the travel stiffer. A negative chamber lies on the other side of the piston, around the shaft, and pulls the spring in. It is filled from the positive one through a port that joins the two at one travel, 0 for a port at full extension. Such a spring needs negative_volume, shaft and port_travel. A second chamber lies beside the positive one, behind a free piston. The piston rests on a stop until the pressure of the positive chamber reaches that of the second one. Such a spring needs second_volume and second_fill. */
export interface AirspringSpec {
  /** the air pressure around the spring, above vacuum; may be left out where the job, or the conditions of a record, give it; absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a) */
  ambient?: AbsolutePressure;
  /** diameter of the piston; length in mm, cm, m, in, ft */
  bore?: Length;
  /** n of p·Vⁿ, from 1 (slow) to 2; about 1.4 is fast */
  exponent?: number | string;
  /** fill of the positive chamber at full extension, after slow cycling past the port; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill?: GaugePressure;
  /** volume of the negative chamber at full extension; 0 for none; volume in cm³, mm³, ml, l, m³, in³ */
  negative_volume?: Volume;
  /** oil in the positive chamber; volume in cm³, mm³, ml, l, m³, in³ */
  oil_volume?: Volume;
  /** where the two chambers share their gas, 0 or more and less than the travel; length in mm, cm, m, in, ft */
  port_travel?: Length;
  /** volume of the empty positive chamber at full extension, without oil and spacers; what these leave is more than the travel sweeps; volume in cm³, mm³, ml, l, m³, in³ */
  positive_volume?: Volume;
  /** fill of the second chamber; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  second_fill?: GaugePressure;
  /** volume of the second chamber, behind a free piston on its stop; 0 for none; volume in cm³, mm³, ml, l, m³, in³ */
  second_volume?: Volume;
  /** diameter of its shaft, less than the bore; length in mm, cm, m, in, ft */
  shaft?: Length;
  /** of one volume spacer; volume in cm³, mm³, ml, l, m³, in³ */
  spacer_volume?: Volume;
  /** how many are fitted */
  spacers?: number;
  /** from full extension to full compression; length in mm, cm, m, in, ft */
  travel?: Length;
}

/** StepReason is a stable code for what a FillStep is based on. */
export type AirspringStepReason = 'calibrated' | 'same_stroke' | 'between' | 'beyond' | 'one';

/** TopUpAction is the action of one step. */
export type AirspringTopUpAction = 'pump' | 'release' | 'cycle';

/** TopUpPlan is the steps of a TopUp and the pressures after each cycle. */
export interface AirspringTopUpPlan {
  /** Carry is V_n/(V_p + V_n) at the port: the share of what is pumped in that goes into the negative chamber, and the factor by which each cycle reduces the difference from the wanted fill. */
  carry: number;
  /** how many times the spring is cycled past its port, 1 or more */
  cycles: number;
  /** of the negative chamber after each cycle, at full extension; each an absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a) */
  negative_pressure: AbsolutePressure[];
  /** how far the spring is pulled in at most; 0 where no air is let out; length in mm, cm, m, in, ft */
  pull_in?: Length;
  /** after each cycle, at full extension, before the pressure is set again; each a gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  reading: GaugePressure[];
  /** in order */
  steps: AirspringTopUpStep[];
}

/** TopUpStep is one step and the reading of the gauge before and after it, where the spring then stands. */
export interface AirspringTopUpStep {
  action: AirspringTopUpAction;
  /** gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  after: GaugePressure;
  /** gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  before: GaugePressure;
  /** after the step, from full extension; 0 where the fill is raised; length in mm, cm, m, in, ft */
  stands: Length;
  /** what to do, without the pressures */
  text: string;
}

/** An air spring whose fill is sought; its exponent should be 1. */
export interface AirspringUnfilled {
  /** p_a, pressure of the air around the spring; in SI in the range [1000, 1e+06] */
  ambient: AbsolutePressure;
  /** diameter of the piston of the positive chamber; in SI in the range [1e-06, 1] */
  bore: Length;
  /** n of p·Vⁿ over the stroke: 1 for a slow stroke or standing still */
  exponent: number;
  /** ignored, since it is sought; if left out: nothing changes */
  fill?: GaugePressure;
  /** V_n0, volume of the negative chamber at full extension; in SI in the range [1e-09, 1]; if left out: there is no negative chamber */
  negative_volume?: Volume;
  /** oil in the positive chamber; in SI in the range [0, 1]; if left out: 0 */
  oil_volume?: Volume;
  /** x_t, travel at which the two chambers share their gas; less than the travel; in SI in the range [0, 10]; if left out: 0 mm: the port is at full extension */
  port_travel?: Length;
  /** volume of the empty positive chamber at full extension, before oil and spacers; in SI in the range [1e-09, 1] */
  positive_volume: Volume;
  /** fill of the second chamber at full extension; in SI in the range (0, 1e+08]; if left out: there is no second chamber */
  second_fill?: GaugePressure;
  /** V₂, of a second positive chamber behind a free piston on its stop; in SI in the range [1e-09, 1]; if left out: there is no second chamber */
  second_volume?: Volume;
  /** diameter of the shaft that the negative chamber is around; less than the bore; in SI in the range [1e-06, 1]; if left out: there is no negative chamber; without one a shaft has no effect */
  shaft?: Length;
  /** of one volume spacer; more than 0 where spacers are fitted; in SI in the range [0, 1]; if left out: 0 */
  spacer_volume?: Volume;
  /** how many spacers are fitted; in SI in the range [0, 1000]; if left out: 0 */
  spacers?: number;
  /** from full extension to full compression; in SI in the range [1e-06, 10] */
  travel: Length;
}

/** angles, counter-clockwise positive in the side view */
export type Angle = string;

/** areas */
export type Area = string;

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerAngle {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionAngle[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadAngle;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. Angle in °, rad. */
  uncertainty: Angle;
  /** with every input as stated; of Simulate, the mean of the draws; angle in °, rad */
  value: Angle;
}

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerEnergy {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionEnergy[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadEnergy;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. Energy in J, kJ, ft·lbf. */
  uncertainty: Energy;
  /** with every input as stated; of Simulate, the mean of the draws; energy in J, kJ, ft·lbf */
  value: Energy;
}

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerForce {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionForce[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadForce;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. Force in N, kN, lbf, kgf. */
  uncertainty: Force;
  /** with every input as stated; of Simulate, the mean of the draws; force in N, kN, lbf, kgf */
  value: Force;
}

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerFrequency {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionFrequency[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadFrequency;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. Frequency in Hz. */
  uncertainty: Frequency;
  /** with every input as stated; of Simulate, the mean of the draws; frequency in Hz */
  value: Frequency;
}

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerGaugePressure {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionGaugePressure[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadGaugePressure;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  uncertainty: GaugePressure;
  /** with every input as stated; of Simulate, the mean of the draws; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  value: GaugePressure;
}

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerLength {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionLength[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadLength;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. Length in mm, cm, m, in, ft. */
  uncertainty: Length;
  /** with every input as stated; of Simulate, the mean of the draws; length in mm, cm, m, in, ft */
  value: Length;
}

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerNumber {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionNumber[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadNumber;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. */
  uncertainty: number;
  /** with every input as stated; of Simulate, the mean of the draws */
  value: number;
}

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerStiffness {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionStiffness[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadStiffness;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. Stiffness in N/mm, N/m, lbf/in, kgf/mm. */
  uncertainty: Stiffness;
  /** with every input as stated; of Simulate, the mean of the draws; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  value: Stiffness;
}

/** Answer is a value with its standard uncertainty and what contributes to that. */
export interface CertaintyAnswerTime {
  /** Contributions lists the inputs whose effect is more than a billionth of uncertainty, the largest first. There are none of Simulate. */
  contributions: CertaintyContributionTime[];
  /** Dominant is the input that contributes most; empty if uncertainty is 0, and of Simulate. */
  dominant: string;
  /** of Simulate */
  spread?: CertaintySpreadTime;
  /** Uncertainty is one standard deviation, 0 or more; of Simulate, that of the draws as a sample. Time in s, ms. */
  uncertainty: Time;
  /** with every input as stated; of Simulate, the mean of the draws; time in s, ms */
  value: Time;
}

/** Budget is the answers for a bike, each with its standard uncertainty: to first order of Propagate, drawn of Simulate. */
export interface CertaintyBudget {
  /** both ends settled together; missing where they are not */
  coupled?: CertaintyCoupledBudget;
  /** of Simulate, the impossible ones too */
  draws?: number;
  /** Exact lists the inputs of the bike that were taken as exact because their uncertainty is 0, such as "rear.spring_rate". */
  exact: string[];
  /** frequency_ratio is the fast_frequency of the front over that of the rear; missing if either is missing. */
  frequency_ratio?: CertaintyAnswerNumber;
  /** missing for an end that the setup does not have, as is rear */
  front?: CertaintyEndBudget;
  /** not_used lists the stated uncertainties of inputs that the bike does not have. */
  not_used?: CertaintyLeftover[];
  rear?: CertaintyEndBudget;
  /** of Simulate, that the draws started from */
  seed?: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionAngle {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. Angle in °, rad. */
  effect: Angle;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionEnergy {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. Energy in J, kJ, ft·lbf. */
  effect: Energy;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionForce {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. Force in N, kN, lbf, kgf. */
  effect: Force;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionFrequency {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. Frequency in Hz. */
  effect: Frequency;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionGaugePressure {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  effect: GaugePressure;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionLength {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. Length in mm, cm, m, in, ft. */
  effect: Length;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionNumber {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. */
  effect: number;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionStiffness {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. Stiffness in N/mm, N/m, lbf/in, kgf/mm. */
  effect: Stiffness;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** Contribution is what the error of one input does to an answer. */
export interface CertaintyContributionTime {
  /** Effect is the change of the answer when the input grows by one standard uncertainty. If the field stands for several inputs, such as the travels of a table, it is the root of the sum of the squares of their effects. Time in s, ms. */
  effect: Time;
  /** the field of uncertainty, such as "rear.preload"; "rear.gauge.readings" is the error that a fit.Gauge states */
  input: string;
  /** of the variance, from 0 to 1; the shares of all inputs add to 1 */
  share: number;
}

/** CoupledBudget is the answers for both ends settled together, those of sag.Stance. They need Masses.Wheelbase, masses.mass_centre_height and the radii of the wheels, and no scales. The friction left at the springs is in them. */
export interface CertaintyCoupledBudget {
  bottom_bracket_height?: CertaintyAnswerLength;
  front_sag?: CertaintyAnswerNumber;
  front_stroke?: CertaintyAnswerLength;
  /** missing without a fork */
  head_angle?: CertaintyAnswerAngle;
  pitch?: CertaintyAnswerAngle;
  rear_sag?: CertaintyAnswerNumber;
  rear_share?: CertaintyAnswerNumber;
  rear_stroke?: CertaintyAnswerLength;
  /** missing where the stance has none, as is bottom_bracket_height */
  trail?: CertaintyAnswerLength;
  wheelbase?: CertaintyAnswerLength;
}

/** EndBudget is the answers for one end with the spring, preload, fill and spacers chosen for it. Load, energy, drop_height, full_force and full_ratio are always set. ideal_rate and preload_wanted are missing for an air spring, fill_wanted is missing for a coil spring, and each is missing if no such value meets the target. All others are missing if the load tops or bottoms the end out, and the frequencies also if their wheel rate is not more than 0. For a spring known by its gauge (fit.Gauge) only load and what its readings tell is set. The landing is missing without a drop. Of Simulate, an answer is missing if no draw has it. */
export interface CertaintyEndBudget {
  /** of Simulate */
  counts?: CertaintyEndCounts;
  /** that of sag.Reserve */
  drop_height?: CertaintyAnswerLength;
  /** that of sag.Reserve */
  energy?: CertaintyAnswerEnergy;
  /** taken up over travel_left */
  energy_left?: CertaintyAnswerEnergy;
  /** of fast_wheel_rate */
  fast_frequency?: CertaintyAnswerFrequency;
  /** at rest, of fast movements */
  fast_wheel_rate?: CertaintyAnswerStiffness;
  /** with the chosen spacers */
  fill_wanted?: CertaintyAnswerGaugePressure;
  /** of wheel_rate */
  frequency?: CertaintyAnswerFrequency;
  /** that of sag.Reserve */
  full_force?: CertaintyAnswerForce;
  /** full_force over load */
  full_ratio?: CertaintyAnswerNumber;
  /** What meets the target sag. Errors of preload, fill, friction and temperature have no effect on these three. at the least preload of the collar */
  ideal_rate?: CertaintyAnswerStiffness;
  landing_damper_work?: CertaintyAnswerEnergy;
  /** 0 as long as it does not bottom */
  landing_energy_left?: CertaintyAnswerEnergy;
  landing_peak_force?: CertaintyAnswerForce;
  landing_time?: CertaintyAnswerTime;
  /** How it takes the drop of EndSetup, with the damping as set: those of sag.Landing. */
  landing_travel?: CertaintyAnswerLength;
  landing_used?: CertaintyAnswerNumber;
  /** sprung, at the wheel */
  load: CertaintyAnswerForce;
  /** of the chosen spring */
  preload_wanted?: CertaintyAnswerLength;
  /** Rivals lists the springs of the shelf that would be chosen instead if the true load were less or more than the stated one: at most one for less, then at most one for more. */
  rivals?: CertaintyRival[];
  /** What the end does as chosen. of the wheel, over its full travel */
  sag?: CertaintyAnswerNumber;
  /** of the shock, over its stroke */
  shock_sag?: CertaintyAnswerNumber;
  /** of the shock, at rest */
  stroke?: CertaintyAnswerLength;
  /** stroke_reading is stroke as a ring shows it: its uncertainty includes that of the reading. A reading within two standard uncertainties agrees with the prediction. */
  stroke_reading?: CertaintyAnswerLength;
  /** of the wheel, at rest */
  travel?: CertaintyAnswerLength;
  /** of the wheel, from rest to full travel */
  travel_left?: CertaintyAnswerLength;
  /** at rest, of slow movements */
  wheel_rate?: CertaintyAnswerStiffness;
}

/** EndCounts counts the draws of Simulate by what one end does in them. */
export interface CertaintyEndCounts {
  /** the draws whose landing uses up the travel */
  bottoms: number;
  /** held_at_top and collapses count the draws whose load tops or bottoms this end out. Where the wheel stands is then that end of its travel. Wheel rates and frequencies leave these draws out. */
  collapses: number;
  /** held_at_top and collapses count the draws whose load tops or bottoms this end out. Where the wheel stands is then that end of its travel. Wheel rates and frequencies leave these draws out. */
  held_at_top: number;
  /** Impossible counts the draws that all answers leave out: the wheel carries less than its own unsprung mass, the travel of a table falls, or the piston sweeps more than its chamber. */
  impossible: number;
  /** the springs of the shelf in its order */
  springs?: CertaintySpringShare[];
}

/** EndUncertainty states how well the inputs of a fit.Spec are known. The inputs that it does not have are exact: the target, the stroke of the shock or the travel along the stanchions, the strokes of a table, solid travels, the range of the collar and the number of spacers. */
export interface CertaintyEndUncertainty {
  /** that of the air spring's bore, up to the bore itself; length in mm, cm, m, in, ft */
  bore?: Length;
  /** Damping is relative, up to 1: that of the damper as set over what it is taken for. */
  damping?: number | string;
  /** of a drop to land, up to the height itself; length in mm, cm, m, in, ft */
  drop_height?: Length;
  /** that of the air spring's exponent, up to 1 */
  exponent?: number | string;
  /** of an air spring as set, by the error of the gauge; up to the marking; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill?: GaugePressure;
  /** Friction is for the dry friction that is left at the spring when the wheel has come to rest, up to the weight of rider and bike. It moves the rest, but not rates and reserve. It is not the error of the job's friction, which only sets the band of sag.Rest. Force in N, kN, lbf, kgf. */
  friction?: Force;
  /** gas_temperature is relative, up to 1, and for the absolute temperature of the gas at rest over that at which it was filled. 5 K in 293 K is 0.017. */
  gas_temperature?: number | string;
  /** of a fork, up to 30°; angle in °, rad */
  head_angle?: Angle;
  /** lever_ratio is relative, up to 1, and for every curve but that of a fork. All travels and lever ratios of the curve are off by the same fraction; its stroke is exact. */
  lever_ratio?: number | string;
  /** that of the air spring's negative volume, up to the volume itself; volume in cm³, mm³, ml, l, m³, in³ */
  negative_volume?: Volume;
  /** that of the air spring's oil, up to the positive volume; volume in cm³, mm³, ml, l, m³, in³ */
  oil_volume?: Volume;
  /** that of the air spring's port, up to the travel; length in mm, cm, m, in, ft */
  port_travel?: Length;
  /** that of the air spring's positive volume, up to the volume itself; volume in cm³, mm³, ml, l, m³, in³ */
  positive_volume?: Volume;
  /** of a coil as set, up to the stroke; length in mm, cm, m, in, ft */
  preload?: Length;
  /** Reading is for the reading of the ring, up to the stroke. It has an effect on stroke_reading, and two of it are a miss of the target that can't be told from none. Length in mm, cm, m, in, ft. */
  reading?: Length;
  /** that of the air spring's second fill, up to the fill itself; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  second_fill?: GaugePressure;
  /** that of the air spring's second volume, up to the volume itself; volume in cm³, mm³, ml, l, m³, in³ */
  second_volume?: Volume;
  /** that of the air spring's shaft, up to the diameter itself; length in mm, cm, m, in, ft */
  shaft?: Length;
  /** that of one spacer, and of all alike, up to the volume itself; volume in cm³, mm³, ml, l, m³, in³ */
  spacer_volume?: Volume;
  /** spring_rate is relative, up to 1, and for each spring of the shelf: the true rate over the marked one, or the true force over that of a spring whose rate varies. The rates are off independently. */
  spring_rate?: number | string;
  /** table_travel is for each travel of a table but the first, which is 0; up to the last travel over the number of steps. The travels are off independently. Length in mm, cm, m, in, ft. */
  table_travel?: Length;
}

/** Leftover is a stated uncertainty of an input that the bike does not have, as after a change of spring. */
export interface CertaintyLeftover {
  /** the field of uncertainty, such as "rear.spring_rate" */
  input: string;
  /** why it is not used, for people */
  reason: string;
}

/** Rival is another spring of the shelf, which is the one to fit if the true load or the true rates are far enough from the stated ones. */
export interface CertaintyRival {
  /** SofterRival or HarderRival */
  code: SagFinding;
  /** the ideal rate from which on the rival is chosen; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  edge_rate: Stiffness;
  /** Input is the input that decides most: its share of the variance of the ideal rate less the edge is the largest. It is empty if nothing is uncertain. If it is spring_rate, measure the two springs to decide between them. */
  input: string;
  /** that the true ideal rate is beyond edge_rate; from 0 to 1 */
  probability: number;
  /** marked rate of the rival, as its candidate has it; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  rate: Stiffness;
  /** marked rate of the chosen spring, as its candidate has it; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  recommended: Stiffness;
  /** that of input, from 0 to 1 */
  share: number;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadAngle {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Angle in °, rad. */
  high: Angle;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Angle in °, rad. */
  low: Angle;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadEnergy {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Energy in J, kJ, ft·lbf. */
  high: Energy;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Energy in J, kJ, ft·lbf. */
  low: Energy;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadForce {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Force in N, kN, lbf, kgf. */
  high: Force;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Force in N, kN, lbf, kgf. */
  low: Force;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadFrequency {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Frequency in Hz. */
  high: Frequency;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Frequency in Hz. */
  low: Frequency;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadGaugePressure {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  high: GaugePressure;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  low: GaugePressure;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadLength {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Length in mm, cm, m, in, ft. */
  high: Length;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Length in mm, cm, m, in, ft. */
  low: Length;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadNumber {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. */
  high: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. */
  low: number;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadStiffness {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Stiffness in N/mm, N/m, lbf/in, kgf/mm. */
  high: Stiffness;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Stiffness in N/mm, N/m, lbf/in, kgf/mm. */
  low: Stiffness;
}

/** Spread is the distribution of one answer over the draws. */
export interface CertaintySpreadTime {
  /** the number that have the answer */
  draws: number;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Time in s, ms. */
  high: Time;
  /** Low and high are the percentiles 2.5 and 97.5, interpolated between two draws: 95 % of the draws lie between them. Time in s, ms. */
  low: Time;
}

/** SpringShare is one spring of the shelf in EndCounts. */
export interface CertaintySpringShare {
  /** as marked; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  rate: Stiffness;
  /** Share is the fraction of the possible draws in which this is the spring to fit, if the load and the true rates drawn were known; from 0 to 1. */
  share: number;
}

/** Uncertainty states how well the inputs of a setup are known. Each field is a standard uncertainty, one standard deviation, in the unit of the input or, if its comment says relative, a fraction of the input. An input whose field is 0 or left out is taken as exact, and a Budget lists it. There are no defaults, because no published figures for the scales, gauges and springs of these bikes were found. If a reading may be off by up to ±a, and every error within that is equally likely, state a/√3 (a rectangular distribution; JCGM 100:2008, from memory). Errors are taken as independent and 0 on average. Correct a known error in the job instead. Each field is finite and from 0 to the limit in its comment. If the bike does not have the input, such as the spring rate of an end with an air spring, the field has no effect, and a Budget lists it as not used. */
export interface CertaintyUncertainty {
  /** for air springs, up to the ambient pressure itself; absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a) */
  ambient?: AbsolutePressure;
  /** rider_mass and bike_mass are for a job without scales, each up to the mass itself. Mass in kg, g, lb, oz. */
  bike_mass?: Mass;
  /** up to the height itself; length in mm, cm, m, in, ft */
  bottom_bracket_height?: Length;
  /** up to the length itself; length in mm, cm, m, in, ft */
  chainstay_length?: Length;
  /** up to 1 m; length in mm, cm, m, in, ft */
  fork_offset?: Length;
  /** that of what is in front */
  front?: CertaintyEndUncertainty;
  /** front_scale and rear_scale go up to the reading of the scale. If one scale is put under one wheel after the other, state its repeatability. Mass in kg, g, lb, oz. */
  front_scale?: Mass;
  /** up to the radius itself; length in mm, cm, m, in, ft */
  front_wheel_radius?: Length;
  /** Wheelbase and mass_centre_behind_front_axle go up to the distance from the mass centre to the nearer axle; wheelbase without a mass centre to the wheelbase itself. Length in mm, cm, m, in, ft. */
  mass_centre_behind_front_axle?: Length;
  /** The next seven are for both ends settled together. up to the height itself; length in mm, cm, m, in, ft */
  mass_centre_height?: Length;
  /** that of what is behind */
  rear?: CertaintyEndUncertainty;
  /** front_scale and rear_scale go up to the reading of the scale. If one scale is put under one wheel after the other, state its repeatability. Mass in kg, g, lb, oz. */
  rear_scale?: Mass;
  /** up to the smaller of the front's and the rear's share */
  rear_share?: number | string;
  /** up to the radius itself; length in mm, cm, m, in, ft */
  rear_wheel_radius?: Length;
  /** rider_mass and bike_mass are for a job without scales, each up to the mass itself. Mass in kg, g, lb, oz. */
  rider_mass?: Mass;
  /** that of the unsprung mass, up to the bike's mass; mass in kg, g, lb, oz */
  unsprung_front?: Mass;
  /** that of the unsprung mass, up to the bike's mass; mass in kg, g, lb, oz */
  unsprung_rear?: Mass;
  /** of the wheels without a radius of their own, up to the radius itself; length in mm, cm, m, in, ft */
  wheel_radius?: Length;
  /** Wheelbase and mass_centre_behind_front_axle go up to the distance from the mass centre to the nearer axle; wheelbase without a mass centre to the wheelbase itself. Length in mm, cm, m, in, ft. */
  wheelbase?: Length;
}

/** Ends says how a spring's last coils are finished. Empty counts as SquaredGround, as shock and fork springs are (common practice). */
export type CoilEnds = '' | 'plain' | 'plain_ground' | 'squared' | 'squared_ground';

/** A coil spring in its place: its law is F = k·(x + preload), from x = 0 to the travel L₀ − solid length − preload, with k = G·d⁴/(8·D³·n). free_length is needed here. */
export interface CoilInstalled {
  /** n, coils that take part in the compression; any fraction, never rounded; if left out: total_coils is given, and n = total_coils − dead coils of the ends */
  active_coils?: number;
  /** ρ of the wire; in SI in the range [0.001, 1e+06]; if left out: density of the material, or not known */
  density?: Density;
  /** E of the wire; more than G; in SI in the range [1, 1e+15]; if left out: E of the material, or not known */
  elastic_modulus?: Stress;
  /** ν of the buckling formula: buckled length over free length; 0.5 for both ends seated flat and parallel, 0.707 for one seated and one hinged, 1 for both hinged, 2 for one seated and one free; if left out: the outputs of buckling are not given */
  end_fixity?: number;
  /** how the last coils are finished; see the table of ends; if left out: squared_ground */
  ends?: 'plain' | 'plain_ground' | 'squared' | 'squared_ground';
  /** L₀, length without a load; more than the solid length; needed here; in SI in the range [1e-06, 1000] */
  free_length: Length;
  /** D − d, inside the wire, in the free state; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
  inner_diameter?: Length;
  /** axial force on the spring, compressive, for the outputs that take a load; in SI in the range (0, ∞); if left out: those outputs are not given */
  load?: Force;
  /** name or alias of a material in materials.json, compared by letters and digits alone and without regard to capitals; its moduli are those of the row whose wire_from < d ≤ wire_to (a bound that a row lacks does not bind). It gives G, and E and density where the case gives none; if left out: shear_modulus is given */
  material?: string;
  /** D, diameter of the coil between the centres of the wire; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
  mean_diameter?: Length;
  /** D + d, over the wire, in the free state; in SI in the range [1e-06, 1000]; if left out: one of the other two diameters is given */
  outer_diameter?: Length;
  /** compression of the spring at x = 0; less than L₀ − solid length; in SI in the range [0, ∞); if left out: 0 mm */
  preload?: Length;
  /** G of the wire; in SI in the range [1, 1e+15]; if left out: material is given, and G is that of the material for the wire diameter */
  shear_modulus?: Stress;
  /** N, active and dead coils together; it leaves at least 0.001 active coils; if left out: active_coils is given, and N = active_coils + dead coils of the ends */
  total_coils?: number;
  /** d, diameter of the wire; less than the mean diameter; in SI in the range [1e-06, 1000] */
  wire_diameter: Length;
}

/** linear_pitch describes a progressive spring whose pitch widens evenly from one end to the other, so that its coils close one after another without a kink. */
export interface CoilLinearPitch {
  /** more than 0 */
  active_coils: number | string;
  /** between the wires of neighbouring coils at one end, 0 or more; length in mm, cm, m, in, ft */
  first_gap?: Length;
  /** at the other end, 0 or more; one of the two must be more than 0; length in mm, cm, m, in, ft */
  last_gap?: Length;
  /** length in mm, cm, m, in, ft */
  mean_diameter: Length;
  /** more than 0; stress in MPa, Pa, kPa, GPa, psi, kpsi, Mpsi */
  shear_modulus: Stress;
  /** more than 0, less than the mean diameter; length in mm, cm, m, in, ft */
  wire_diameter: Length;
}

/** The temperature of a spring's gas, and the place. */
export interface Conditions {
  /** geopotential altitude; the ambient pressure is that of airspring.atmosphere; in SI in the range [-500, 11000]; if left out: 0 m, sea level */
  altitude?: Length;
  /** of the gas; in SI in the range [200, 400] */
  temperature: Temperature;
}

/** One end of a bike between the sprung mass and the ground. */
export interface Corner {
  /** of the wheel */
  curve?: Curve;
  /** c of a linear damper at the wheel; in SI in the range [0, 1e+09]; if left out: 0 */
  damping?: Damping;
  /** of the spring */
  law?: Law;
  /** rate of the stops at the wheel beyond both ends of its travel, besides the spring's force there; in SI in the range [0, 1e+12]; if left out: 0: no stops, and the spring has the force of the nearer end */
  stops?: Stiffness;
  /** k_t, vertical rate of the tyre, which pushes and does not pull; in SI in the range (0, 1e+12] */
  tyre: Stiffness;
  /** m_u, that moves with the axle; in SI in the range [1e-06, 1e+06] */
  unsprung: Mass;
}

/** How far the wheel goes for each stroke of the spring: exactly one kind. w is the vertical travel of the wheel with the frame held still, s the stroke of the shock, or along the stanchions of a fork. */
export interface Curve {
  /** lever ratio LR = w/s that does not change; with travel; if left out: another kind is given */
  constant?: number;
  /** a telescopic fork; if left out: another kind is given */
  fork?: Fork;
  /** the places of the pivots; if left out: another kind is given */
  mechanism?: Mechanism;
  /** travels known at some strokes; if left out: another kind is given */
  table?: Table;
  /** full vertical wheel travel, beside constant; the stroke is travel/constant; in SI in the range [1e-06, 1000]; if left out: another kind is given */
  travel?: Length;
}

/** damping coefficients, force per speed */
export type Damping = string;

/** densities */
export type Density = string;

/** A soft spring k₁ on top of a main spring k₂; the soft one is stopped after x₁ of its own compression. With F₀ the force at x = 0: up to F* = k₁·x₁ the rate is k₁·k₂/(k₁ + k₂), beyond it k₂. It is the law of groups [{k₁, x₁}, {k₂, x₂}] from the preload on. */
export interface DualRate {
  /** k₂; in SI in the range (0, ∞) */
  main_rate: Stiffness;
  /** x₂, compression of the main spring from free at which it is solid; in SI in the range (0, ∞) */
  main_travel: Length;
  /** compression of the two together at x = 0; less than x₁ + x₂; in SI in the range [0, ∞); if left out: 0 mm */
  preload?: Length;
  /** k₁; in SI in the range (0, ∞) */
  soft_rate: Stiffness;
  /** x₁, compression of the soft spring from free at which it is stopped; in SI in the range (0, ∞) */
  soft_travel: Length;
}

/** One end of the bike: a spring behind a curve. The spring's travel counts along the stroke; the travel of the wheel ends where the curve or the spring does, whichever is first. */
export interface End {
  /** of the wheel */
  curve?: Curve;
  /** of the spring */
  law?: Law;
}

/** energies and work */
export type Energy = string;

/** Fault is one thing that is wrong with what was asked. units.FieldError writes it. */
export interface Fault {
  /** What is wrong, for programs: range, unit, syntax, missing, conflict or unknown of an input, or more exact, such as bottomed_out or undetermined; defect of the library, and other. There may be new ones. */
  code: string;
  /** what is counted, such as "springs", where value and limits are numbers of these */
  counts?: string;
  /** path of the field within what was given, such as rear.coil.rate; empty for all of it */
  field: string;
  /** the value in as few digits as people need, where value has more */
  given?: string;
  /** the general code, where the code is a kind of it */
  kind?: string;
  /** of a number or a quantity; all of them hold */
  limits?: Limit[];
  /** what may have been meant: something to ask, never to assume */
  meant?: string[];
  /** other fields, one of which is needed */
  needs?: string[];
  /** the words that are accepted */
  one_of?: string[];
  /** the part of the library that refused it */
  package?: string;
  /** what was given; a quantity as text with its unit */
  value?: string | number | boolean;
  /** what would be accepted, in English */
  want: string;
  /** other fields that must not be given beside this one */
  without?: string[];
}

/** Faults are all that is wrong with what was asked. They come in place of an answer. */
export interface Faults {
  faults: Fault[];
}

/** AirAnswer is an air spring tried with each number of spacers. */
export interface FitAirAnswer {
  /** that the fills are above, as stated; absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a) */
  ambient: AbsolutePressure;
  /** the recommended fill less the one it holds now; 0 if that is unknown; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  change: GaugePressure;
  /** the fill it holds now was given */
  change_known: boolean;
  /** of the fast stroke, as stated */
  exponent: number;
  /** fill_per_spacer is by how much one more spacer changes the fill for the same sag, on average over the numbers tried, less than 0 in a spring of one chamber. 0 if fewer than two were tried. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  fill_per_spacer: GaugePressure;
  /** what was wanted at full travel; missing for nothing */
  full_travel?: FitFullTravel;
  /** the best is first */
  options: FitAirOption[];
  /** spacers to add, or to take out if negative */
  spacer_change: number;
  /** spacers_kept says that only the fitted number of spacers was tried, though max_spacers was given: without a full_travel_ratio nothing says which number would be better. */
  spacers_kept?: boolean;
}

/** AirOption is a fill with a number of spacers. */
export interface FitAirOption {
  /** to set: fill_wanted, or the marking if that is less; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill: GaugePressure;
  /** for the exact target; may be above the marking; 0 if no air spring can hold it; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill_wanted: GaugePressure;
  /** what speaks for or against it */
  findings: SagFinding[];
  /** the wheel force at full travel, over a fast stroke, over the load */
  full_ratio: number;
  /** Rest.Sag less the target */
  miss: number;
  rest: SagRest;
  spacers: number;
  /** the largest miss that can't be told from none here */
  tolerance: number;
}

/** Caution is a warning of a danger in the work that an answer asks for. The code is stable, so that a program can show the caution in its own language. It should show them all. */
export interface FitCaution {
  code: string;
  text: string;
}

/** Chamber is an air spring with the spacers it can take. Of the embedded spec, fill is the pressure it holds now, if known; spacers is how many are fitted now; travel may be left out if it is the curve's stroke, and ambient if it is that given to New. Exponent is that of a fast stroke: standing still the gas is at the temperature around it. */
export interface FitChamber {
  /** the air pressure around the spring, above vacuum; may be left out where the job, or the conditions of a record, give it; absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a) */
  ambient?: AbsolutePressure;
  /** diameter of the piston; length in mm, cm, m, in, ft */
  bore: Length;
  /** n of p·Vⁿ, from 1 (slow) to 2; about 1.4 is fast */
  exponent: number | string;
  /** fill of the positive chamber at full extension, after slow cycling past the port; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill?: GaugePressure;
  /** wheel force wanted at full travel over the sprung load; 0 for none wanted */
  full_travel_ratio?: number | string;
  /** highest fill that the marking on the part permits; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  max_fill: GaugePressure;
  /** max_spacers is how many spacers fit, at most 100. With full_travel_ratio given, every count from 0 to max_spacers is tried; otherwise the fitted count is kept, and the answer says so. */
  max_spacers?: number;
  /** negative_chamber is None for a spring that has no negative chamber. Of one that has, the negative_volume is given instead. */
  negative_chamber?: FitStatement;
  /** volume of the negative chamber at full extension; 0 for none; volume in cm³, mm³, ml, l, m³, in³ */
  negative_volume?: Volume;
  /** oil in the positive chamber; volume in cm³, mm³, ml, l, m³, in³ */
  oil_volume?: Volume;
  /** where the two chambers share their gas, 0 or more and less than the travel; length in mm, cm, m, in, ft */
  port_travel?: Length;
  /** volume of the empty positive chamber at full extension, without oil and spacers; what these leave is more than the travel sweeps; volume in cm³, mm³, ml, l, m³, in³ */
  positive_volume: Volume;
  /** fill of the second chamber; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  second_fill?: GaugePressure;
  /** volume of the second chamber, behind a free piston on its stop; 0 for none; volume in cm³, mm³, ml, l, m³, in³ */
  second_volume?: Volume;
  /** diameter of its shaft, less than the bore; length in mm, cm, m, in, ft */
  shaft?: Length;
  /** of one volume spacer; volume in cm³, mm³, ml, l, m³, in³ */
  spacer_volume?: Volume;
  /** how many are fitted */
  spacers?: number;
  /** from full extension to full compression; length in mm, cm, m, in, ft */
  travel?: Length;
}

/** CoilAnswer is a shelf of coil springs, each tried at one end of the bike. */
export interface FitCoilAnswer {
  /** the springs of the shelf on both sides of ideal_rate */
  between: FitNeighbours;
  /** every spring of the shelf, best first */
  candidates: FitCoilCandidate[];
  /** exactly on target with the collar's least preload; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  ideal_rate: Stiffness;
}

/** CoilCandidate is a spring of the shelf at the preload that suits the target best. */
export interface FitCoilCandidate {
  /** what of it the collar gives; length in mm, cm, m, in, ft */
  collar_preload: Length;
  /** what speaks for or against it */
  findings: SagFinding[];
  /** at the wheel, at the end of the spring's travel; force in N, kN, lbf, kgf */
  full_force: Force;
  /** the same over the load */
  full_ratio: number;
  /** which spring of the shelf it is */
  index: number;
  /** what a spring whose rate varies is, for people; empty for others */
  law?: string;
  /** Rest.Sag less the target */
  miss: number;
  /** that collar and spacers can give; length in mm, cm, m, in, ft */
  preload: Length;
  /** preload_spacers are the spacers for the rest of it, the thickest first; none without any at hand. Each a length in mm, cm, m, in, ft. */
  preload_spacers?: Length[];
  /** for the exact target; may be outside the collar's range; length in mm, cm, m, in, ft */
  preload_wanted: Length;
  /** Rate is that of the spring. One whose rate varies has the rate of a spring of constant rate that carries the same at the stroke of the target with the collar's least preload. Stiffness in N/mm, N/m, lbf/in, kgf/mm. */
  rate: Stiffness;
  /** why it stands behind the spring before it */
  reason: FitReason;
  rest: SagRest;
  /** its solid travel was given */
  solid_known: boolean;
  /** the compression left at full stroke, negative if it binds before; 0 if unknown; length in mm, cm, m, in, ft */
  solid_reserve: Length;
  /** the largest miss that can't be told from none here */
  tolerance: number;
  /** of the collar for collar_preload from free; 0 if the pitch is unknown */
  turns: number;
}

/** full_travel is the wheel force wanted at full travel beside what the spacers can give, each over the sprung load, over a fast stroke. */
export interface FitFullTravel {
  /** by the recommended option */
  given: number;
  /** Least and most bound what the numbers of spacers give that were tried and are on target; all that were tried if none is. */
  least: number;
  /** Least and most bound what the numbers of spacers give that were tried and are on target; all that were tried if none is. */
  most: number;
  /** Reached says that wanted lies between least and most, or off by no more than 0.05, since ratios are stated to one decimal. */
  reached: boolean;
  wanted: number;
}

/** Gauge is an air spring of which nobody knows the chambers, but readings of its gauge and of the ring on its shaft or stanchion. All readings are of the spring as it is, with the same spacers and oil, at one temperature, and without a leak between them. Readings by the same rider, behind one lever ratio, need no weight: it cancels. Of an end without a negative chamber two readings tell everything, with one four do. With fewer the answer is the next fill to try. */
export interface FitGauge {
  /** may be left out if it is that given to New; absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a) */
  ambient?: AbsolutePressure;
  /** Exponent is that of a fast stroke; 0 is taken as 1.4, that of air which exchanges no heat. */
  exponent?: number | string;
  /** ring_error is the standard error of a ring's reading; 0 is taken as Spec.Reading or, if that is 0 too, as 1 mm. gauge_error is that of a gauge; 0 is taken as exact. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  gauge_error?: GaugePressure;
  /** max_fill is the highest fill that the marking on the part permits. If it is left out, no fill above the highest of the readings is offered. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  max_fill?: GaugePressure;
  /** negative_chamber is SelfFilling or None. It has no default, since the fill of a spring whose negative chamber is left out is far off. */
  negative_chamber?: FitStatement;
  /** outside_diameter is that of the shaft of a spring with a negative chamber, on which the ambient presses. Without one it is the bore, which the readings tell: it is then only compared. Length in mm, cm, m, in, ft. */
  outside_diameter?: Length;
  /** in any order, from 1 to 1000 */
  readings?: FitGaugeReading[];
  /** ring_error is the standard error of a ring's reading; 0 is taken as Spec.Reading or, if that is 0 too, as 1 mm. gauge_error is that of a gauge; 0 is taken as exact. Length in mm, cm, m, in, ft. */
  ring_error?: Length;
}

/** GaugeAnswer is what readings of gauge and ring say of the fill for a target. */
export interface FitGaugeAnswer {
  /** that the fills are above; absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a) */
  ambient: AbsolutePressure;
  /** Answer reports whether the fill puts the spring at the stroke within the error of the ring. If it is false, the fill is a step: set it, read the ring, and ask again with the reading added. */
  answer: boolean;
  /** at_marking reports whether more would be needed than the marking permits. The fill is then that of the marking and no answer. */
  at_marking?: boolean;
  /** Bore is that which the readings give, where it differs from the one stated; otherwise 0. Length in mm, cm, m, in, ft. */
  bore?: Length;
  bounds: AirspringFillBounds;
  /** Chambers are those that the readings give back, with the fill; missing if they don't. */
  chambers?: AirspringSpec;
  /** of a fast stroke */
  exponent: number;
  /** the target lies outside the readings */
  extrapolated?: boolean;
  /** gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill: GaugePressure;
  /** fill_wanted is the fill for the target, standard_error its standard error from those of ring and gauge, and stroke_error what that makes of the ring's stroke. All are 0 if the readings don't tell. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  fill_wanted?: GaugePressure;
  findings: SagFinding[];
  /** sprung load at the wheel; force in N, kN, lbf, kgf */
  load: Force;
  /** readings that differ from the rest */
  misfits?: FitMisfit[];
  /** Miss is Rest.Sag less the target, and tolerance the largest miss that can't be told from none there. */
  miss?: number;
  reason: AirspringStepReason;
  /** Rest is where the end rests with the fill, and its rates there standing still; missing if the readings don't tell. */
  rest?: SagRest;
  /** fill_wanted is the fill for the target, standard_error its standard error from those of ring and gauge, and stroke_error what that makes of the ring's stroke. All are 0 if the readings don't tell. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  standard_error?: GaugePressure;
  /** where the ring is at the target; length in mm, cm, m, in, ft */
  stroke: Length;
  /** fill_wanted is the fill for the target, standard_error its standard error from those of ring and gauge, and stroke_error what that makes of the ring's stroke. All are 0 if the readings don't tell. Length in mm, cm, m, in, ft. */
  stroke_error?: Length;
  /** Miss is Rest.Sag less the target, and tolerance the largest miss that can't be told from none there. */
  tolerance?: number;
}

/** GaugeReading is where the ring was with a fill and a load. */
export interface FitGaugeReading {
  /** at full extension, after slow cycling; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill?: GaugePressure;
  /** Load is the sprung load at the wheel, 0 for a wheel off the ground. A job leaves it out for that of its own rider, or gives rider_mass for that of another one, 0 for nobody on the bike. Package setup then fills in both. Force in N, kN, lbf, kgf. */
  load?: Force;
  /** Load is the sprung load at the wheel, 0 for a wheel off the ground. A job leaves it out for that of its own rider, or gives rider_mass for that of another one, 0 for nobody on the bike. Package setup then fills in both. Mass in kg, g, lb, oz. */
  rider_mass?: Mass;
  /** Stroke is where the ring was, from full extension, more than 0 and less than the full stroke. If the rest was approached from both sides, stroke is the lesser and stroke_back the greater. Length in mm, cm, m, in, ft. */
  stroke?: Length;
  /** 0 if only one approach was read; length in mm, cm, m, in, ft */
  stroke_back?: Length;
}

/** Misfit is a reading that is farther off the spring of all readings than the errors of ring and gauge explain. It, or what it was made with, differs from the rest: a leak, another temperature, other spacers, or a slip. */
export interface FitMisfit {
  /** its index in the job */
  reading: number;
  /** of stroke; length in mm, cm, m, in, ft */
  standard_error: Length;
  /** that of the ring less that of the spring; length in mm, cm, m, in, ft */
  stroke: Length;
}

/** Neighbours are the two springs of a shelf that a rate lies between. */
export interface FitNeighbours {
  /** the softest that is harder, if any */
  harder?: FitCoilCandidate;
  /** the hardest that is not harder than the ideal, if any */
  softer?: FitCoilCandidate;
}

/** PreloadSpacer is some spacers of one thickness. */
export interface FitPreloadSpacer {
  /** how many are at hand, at most 50; 0 counts as one */
  count?: number;
  /** from 0.05 mm; length in mm, cm, m, in, ft */
  thickness: Length;
}

/** Reason is a stable code for a place on a ranked list. */
export type FitReason = 'first' | 'goes_solid' | 'off_target' | 'farther_rate' | 'larger_miss' | 'less_left' | 'alike';

/** Shelf is the coil springs at hand and the collar that preloads them. */
export interface FitShelf {
  /** most compression of a spring at full extension; length in mm, cm, m, in, ft */
  preload_max?: Length;
  /** least compression of a spring at full extension, 0 or more; length in mm, cm, m, in, ft */
  preload_min?: Length;
  /** preload_spacers are put under the cap or the collar, any of those at hand: they add their thickness to the preload that the collar gives. A fork without a collar has a preload_min and a preload_max of the preload that it has without any. At most 20, of 100 mm together. */
  preload_spacers?: FitPreloadSpacer[];
  /** the springs to choose from, at least one */
  shelf: FitShelfSpring[];
  /** thread_pitch is the collar's advance per turn, 0.001 mm or more; with it preload is in whole quarter turns. 0 if it is unknown. Length in mm, cm, m, in, ft. */
  thread_pitch?: Length;
}

/** one spring of the shelf: either its rate, or the law of one whose rate varies */
export interface FitShelfSpring {
  /** Spec is a spring whose rate varies, such as a dual-rate, a progressive or a stacked one, from its free length on. It is of at most 30 springs, and those of a shelf of 200 together. */
  law?: LawKindsCoil;
  /** of a spring of constant rate, as marked or measured; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  rate?: Stiffness;
  /** compression from free to coil-bound; 0 if unknown, which is a finding; a law is solid at the end of its own travel, or here if that is less; length in mm, cm, m, in, ft */
  solid_travel?: Length;
}

/** Statement is what is said of a part of a spring instead of its size. */
export type FitStatement = '' | 'none' | 'self_filling';

/** forces and loads; a mass is no force */
export type Force = string;

/** A telescopic fork at the head angle φ: w = s·sin φ, LR = sin φ, and the axle moves by s·(−cos φ, sin φ), x forward. */
export interface Fork {
  /** φ, of the stanchions from the horizontal; in SI in the range (0.5235987755982988, 1.5707963267948966] */
  head_angle: Angle;
  /** full travel along the stanchions, the stroke s; in SI in the range [1e-06, 1000] */
  travel: Length;
}

/** cycles per second */
export type Frequency = string;

/** pressure above that of the air around, as a pump's gauge shows it; below 0 it is less than ambient */
export type GaugePressure = string;

/** A reading of gauge and ring under a force along the spring. */
export interface GaugeReading {
  /** of the positive chamber at full extension, after slow cycling; in SI in the range (0, 1e+08] */
  fill: GaugePressure;
  /** along the spring; 0 without a load; in SI in the range [0, 1e+09]; if left out: 0 N */
  force?: Force;
  /** compression of the spring at rest, where it came to rest from full extension; in SI in the range (0, 10] */
  stroke: Length;
  /** at rest, where it came from a deeper stroke; stroke or more. The stroke used is then halfway between the two; in SI in the range [0, 10]; if left out: only one approach was read */
  stroke_back?: Length;
}

/** Coils of one pitch, as a spring of their own. */
export interface Group {
  /** compression of the group at which its coils touch; in SI in the range (0, ∞) */
  gap: Length;
  /** k of the group alone; in SI in the range (0, ∞) */
  rate: Stiffness;
}

/** The tolerance of one hole. */
export interface HoleTolerance {
  /** name of the body that the hole is in */
  body: string;
  /** name of the point, one of that body */
  point: string;
  /** radius within which the centre of the hole lies; in SI in the range [0, 0.1]; if left out: 0 mm */
  within?: Length;
}

/** A pulley that the tight run of the chain passes over. */
export interface Idler {
  /** place [x, y] of its axis at full extension; in SI in the range [-100, 100] */
  at?: [Length, Length];
  /** name of the body that carries it; frame for the front triangle */
  on: string;
  /** of the pulley; in SI in the range [6, 120] */
  teeth: number;
}

/** Job is a set-up question: which of these springs, or which fill, gives this rider on this bike the sag wanted at each end. If every spring is known by readings of its gauge (fit.Gauge), a job may leave out the bike's mass, the share of the weight, unsprung masses, the air around, a fork's head angle and a shaft's diameter: they hardly move such a fill. The sheet's left_out says what was taken, and Job.Filled returns it. Which fields are needed, and within which range, is said beside them and checked by the library, which names every one that is wrong. */
export interface Job {
  /** Ambient is the absolute air pressure where the bike is set up. It is required if an air spring does not state its own. Absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a). */
  ambient?: AbsolutePressure;
  /** the fork, or whatever is in front */
  front?: SetupEndJob;
  masses: SagMasses;
  /** for people; repeated on the sheet */
  note?: string;
  /** the rear suspension */
  rear?: SetupEndJob;
  /** Riders are the masses of other riders, dressed to ride, whose set-ups are wanted too: at most 100. Without them the sheet has those of riders up to 15 kg lighter and heavier, in steps of 5 kg. Each a mass in kg, g, lb, oz. */
  riders?: Mass[];
  /** the name and version of this format */
  schema: 'wheelrate/job/1';
  /** at most 100 */
  stances?: SetupNamedStance[];
  uncertainty?: CertaintyUncertainty;
}

/** A spring as a law of force over travel x from full extension: exactly one of the fields, its kind. A travel outside 0 to the law's own travel counts as the nearer end. */
export interface Law {
  /** an air spring; F(x), k(x) and E(x) as airspring.law gives them; if left out: another kind is given */
  air?: AirspringFilled;
  /** a coil spring of constant rate by its wire; if left out: another kind is given */
  coil?: CoilInstalled;
  /** a soft spring that is stopped, on top of a main one; if left out: another kind is given */
  dual_rate?: DualRate;
  /** a progressive spring as groups of coils in series, in any order: x(F) = Σ min(F/kᵢ, gapᵢ); group i closes at F = kᵢ·gapᵢ, the rate between closures is 1/Σ 1/kᵢ over the open groups, the travel Σ gapᵢ; if left out: another kind is given */
  groups?: Group[];
  /** constant rate; if left out: another kind is given */
  linear?: Linear;
  /** a progressive spring whose pitch widens evenly; if left out: another kind is given */
  linear_pitch?: LinearPitch;
  /** springs side by side, which share the travel: forces add. The travel of the whole ends where the first spring is used up, the least starts_at + travel; if left out: another kind is given */
  parallel?: Member[];
  /** springs on end, which share the force: travels add. A spring stands still until the force reaches its force at its own travel 0, moves, and stands still again where its travel is used up. Travel and energy of the whole are the sums; the rate is 1/Σ 1/kᵢ over those that move; if left out: another kind is given */
  series?: Law[];
}

/** a coil spring by its wire, put in with a preload: exactly one of the three diameters and one of the two counts of coils; its free length is needed */
export interface LawCoil {
  /** coils that take part */
  active_coils?: number | string;
  /** for mass and surge; density in kg/m³, g/cm³ */
  density?: Density;
  /** E, more than G; for the rates with the climb of the wire and for buckling; stress in MPa, Pa, kPa, GPa, psi, kpsi, Mpsi */
  elastic_modulus?: Stress;
  ends?: CoilEnds;
  /** more than the solid length; length in mm, cm, m, in, ft */
  free_length: Length;
  /** D − d; length in mm, cm, m, in, ft */
  inner_diameter?: Length;
  /** D, between the wire's centres; length in mm, cm, m, in, ft */
  mean_diameter?: Length;
  /** D + d; length in mm, cm, m, in, ft */
  outer_diameter?: Length;
  /** compression at full extension, 0 or more and less than the travel to solid; length in mm, cm, m, in, ft */
  preload?: Length;
  /** G; stress in MPa, Pa, kPa, GPa, psi, kpsi, Mpsi */
  shear_modulus: Stress;
  /** active and dead ones */
  total_coils?: number | string;
  /** d, less than the mean diameter; length in mm, cm, m, in, ft */
  wire_diameter: Length;
}

/** a spring, by exactly one of the fields: its kind */
export interface LawKindsCoil {
  /** an air spring, with its fill */
  air?: AirspringSpec;
  /** a coil spring of constant rate, by its wire */
  coil?: LawCoil;
  /** a soft spring that is stopped, on top of a main one */
  dual_rate?: SpringDualRate;
  /** a progressive spring, by its groups of coils */
  groups?: SpringGroup[];
  /** one of constant rate */
  linear?: SpringLinear;
  /** a progressive spring whose pitch widens evenly */
  linear_pitch?: CoilLinearPitch;
  /** springs side by side, which share the travel */
  parallel?: LawMemberCoil[];
  /** springs on end, which share the force */
  series?: LawKindsCoil[];
}

/** Member is a spring of several side by side. */
export interface LawMemberCoil {
  law: LawKindsCoil;
  /** travel from which on it is compressed, 0 or more; length in mm, cm, m, in, ft */
  starts_at?: Length;
}

/** lengths, travels, strokes, altitudes */
export type Length = string;

/** Limit is one side of a permitted range. */
export interface Limit {
  /** Is is "finite", "more_than", "at_least", "less_than", "at_most" or "equal". New ones may be added. */
  is: string;
  /** the other field or result that has the value, by its name; "" where none has */
  of?: string;
  /** a quantity as text with its unit, or a number; missing for finite */
  value?: string | number | boolean;
}

/** A spring of constant rate: F = rate·(x + preload) for x from 0 to travel. */
export interface Linear {
  /** compression of the spring at x = 0; in SI in the range [0, ∞); if left out: 0 mm */
  preload?: Length;
  /** k; in SI in the range (0, ∞) */
  rate: Stiffness;
  /** from x = 0 to the end; the preload is not counted; in SI in the range (0, ∞) */
  travel: Length;
}

/** A progressive spring whose gap between coils grows evenly from g₀ to g₁ along its n active coils. With k₁ = G·d⁴/(8·D³), h = |g₁ − g₀|, g the smaller gap and u = F/k₁: x = n·u up to u = g; x = n·(u − (u − g)²/(2·h)) up to u = g + h, where it is solid. The travel is n·(g₀ + g₁)/2; the rate is k₁/n over the share of coils still open, 1 − (u − g)/h, which counts as at least 0.001. */
export interface LinearPitch {
  /** n */
  active_coils: number;
  /** g₀, between the wires of neighbouring coils at one end; in SI in the range [0, ∞); if left out: 0 mm */
  first_gap?: Length;
  /** g₁, at the other end; in SI in the range [0, ∞); if left out: 0 mm */
  last_gap?: Length;
  /** D, between the centres of the wire; in SI in the range (0, ∞) */
  mean_diameter: Length;
  /** G; in SI in the range (0, ∞) */
  shear_modulus: Stress;
  /** d; less than the mean diameter; in SI in the range (0, ∞) */
  wire_diameter: Length;
}

/** Fork describes a telescopic fork. */
export interface LinkageFork {
  /** head_angle is the angle of the steering axis, and so of the stanchions, from the horizontal: more than 30°, at most 90°. The lower limit refuses an angle taken from the vertical, such as 26° for 64°. Angle in °, rad. */
  head_angle?: Angle;
  /** Travel is the full travel along the stanchions, 1 µm to 1 km. Length in mm, cm, m, in, ft. */
  travel: Length;
}

/** Method is how a table becomes a curve. */
export type LinkageMethod = '' | 'monotone' | 'smooth' | 'measured';

/** Progression is how the lever ratio changes over the stroke. */
export interface LinkageProgression {
  /** at full stroke */
  end: number;
  /** the greatest over the whole stroke */
  max: number;
  /** and of the greatest; length in mm, cm, m, in, ft */
  max_at: Length;
  /** the least over the whole stroke */
  min: number;
  /** the stroke of the least, the first of several; length in mm, cm, m, in, ft */
  min_at: Length;
  /** lever ratio at full extension */
  start: number;
  /** Value is (Start − End)/Start, such as 0.2 for 20 %. It is positive if the ratio falls, which makes the wheel force rise by more than the spring's. Some texts divide by end or by the mean ratio instead. */
  value: number;
}

/** Spec describes a curve in one of several ways, of which exactly one is given. The travel beside a constant is the wheel's vertical one, that of a fork is along the stanchions. Kinds lists the ways. */
export interface LinkageSpec {
  /** lever ratio, wheel travel over stroke, 0.001 to 1000 */
  constant?: number | string;
  /** for a telescopic fork */
  fork?: LinkageFork;
  /** for the places of the pivots */
  mechanism?: MechanismSpec;
  /** for travels known at some strokes */
  table?: LinkageTable;
  /** full vertical wheel travel, 1 µm to 1 km; length in mm, cm, m, in, ft */
  travel?: Length;
}

/** Table describes a curve by its points: two of stroke, travel and lever ratio. What is counted from full extension, the stroke or else the travel, starts at 0 and rises strictly. */
export interface LinkageTable {
  /** of the method "measured", 3 to 5; 0 chooses */
  degree?: number;
  /** wheel travel over stroke, beside one of the two */
  lever_ratio?: Array<number | string>;
  /** how the points become a curve: monotone, which is also meant without it, and smooth go through every point; measured goes near readings that have errors */
  method?: LinkageMethod;
  /** strokes of the shock, from 0 at full extension, rising; each a length in mm, cm, m, in, ft */
  stroke?: Length[];
  /** vertical wheel travel; each a length in mm, cm, m, in, ft */
  travel?: Length[];
}

/** A reading of gauge and ring under a sprung load at the wheel. The force along the spring is load·LR at the stroke. */
export interface LoadReading {
  /** of the positive chamber at full extension, after slow cycling; in SI in the range (0, 1e+08] */
  fill: GaugePressure;
  /** sprung, at the wheel, vertical; times LR it is at most 1e9 N; in SI in the range [0, 1e+09]; if left out: 0 N */
  load?: Force;
  /** compression of the spring at rest, where it came to rest from full extension; within the stroke of the curve; in SI in the range (0, 10] */
  stroke: Length;
  /** at rest, where it came from a deeper stroke; stroke or more, and within the stroke of the curve. The stroke used is then halfway between the two; in SI in the range [0, 10]; if left out: only one approach was read */
  stroke_back?: Length;
}

/** masses */
export type Mass = string;

/** A planar suspension by its points at full extension and the bodies they belong to. Side view from the drive side: x forward, y up, from the axis of the bottom bracket; angles are counter-clockwise positive. */
export interface Mechanism {
  /** name of the point that the rear wheel turns on; a point of a body that moves */
  axle: string;
  /** names of the points of each rigid body; the body frame stands still, and there are from 1 to 12 others. A point named by two bodies is a pivot between them, by three a pivot that joins all three. A point of no body stands still */
  bodies: Record<string, string[]>;
  /** name of the body that carries the wheel, one of those that the axle is a point of; the instant centre and the brake depend on it; if left out: the axle is a point of one body, which carries the wheel; of two or more it is needed */
  carrier?: string;
  /** places [x, y] at full extension by name; from 1 to 1000 points; in SI in the range [-100, 100] */
  points: Record<string, [Length, Length]>;
  /** names of the points of the two eyes of the shock, on two bodies that move against each other */
  shock: [string, string];
  /** pins that slide along a line; at most 36; if left out: there are none */
  slots?: Slot[];
  /** how far the shock can be compressed; less than its length, the distance of its eyes at full extension; in SI in the range [1e-06, 1000] */
  stroke: Length;
}

/** Slot is a straight slot with a pin in it: point stays on the line through the two points in along, which belong to the body on. The body that point belongs to is another, and free to turn about it. At full extension the pin is on the line to within 1e-9 of the mechanism's extent. */
export interface MechanismSlot {
  /** two points of that body that the line goes through */
  along: [string, string];
  /** the body that has the line */
  on: string;
  /** the point that slides */
  point: string;
}

/** Spec describes a planar suspension by its points at full extension and by the bodies they belong to. A point named by two bodies is a pivot between them, by three a pivot that joins all three; a point of no body stays where it is, as a mark on the frame. The body named "frame" stands still. Single pivot, four-bar, short links, floating shock and six-bar are all described in this way. Without the shock the bodies must have exactly one degree of freedom. */
export interface MechanismSpec {
  /** the point that the rear wheel turns on */
  axle: string;
  /** each one's points; "frame" and from 1 to 12 others */
  bodies: Record<string, string[]>;
  /** Carrier is the body that carries the wheel, required where the axle is a point of two or more: the brake's torque and the instant centre depend on it. */
  carrier?: string;
  /** places at full extension; from 1 to 1000 */
  points: Record<string, [Length, Length]>;
  /** the points of its eyes */
  shock: [string, string];
  /** pins that slide along a line; at most 36 */
  slots?: MechanismSlot[];
  /** how far the shock can be compressed: 1 µm or more, less than its length; length in mm, cm, m, in, ft */
  stroke: Length;
}

/** A spring of several side by side. */
export interface Member {
  /** the spring */
  law?: Law;
  /** travel of the whole at which this spring begins to be compressed; its own travel counts from there; in SI in the range [0, ∞); if left out: 0 mm */
  starts_at?: Length;
}

/** A spring of a shelf by what its label says. */
export interface Nominal {
  /** r, nominal; in SI in the range (0, ∞) */
  rate: Stiffness;
  /** t, greatest deviation over the rate; if left out: 0 */
  tolerance?: number;
}

/** Where a coil spring is to go. */
export interface Place {
  /** largest diameter inside the spring; in SI in the range [0, 1000]; if left out: not known */
  body?: Length;
  /** ν as in the form coil; if left out: 0.5 */
  end_fixity?: number;
  /** compression of the spring at stroke 0; in SI in the range [0, 1000]; if left out: 0 mm */
  preload?: Length;
  /** that the spring must follow; in SI in the range (0, 1000) */
  stroke: Length;
  /** the least one of this very wire; in SI in the range [0, 1e+15]; if left out: not known */
  tensile_strength?: Stress;
  /** smallest diameter around it; in SI in the range [0, 1000]; if left out: not known */
  tube?: Length;
  /** kind of wire; if left out: not known */
  wire?: 'cold_drawn' | 'tempered' | 'stainless';
}

/** The pulleys of the chain. The pitch radius of a pulley of N teeth is r = 12.7 mm/(2·sin(π/N)). */
export interface Pulleys {
  /** teeth; in SI in the range [6, 120] */
  chainring: number;
  /** place [x, y] of the chainring's axis at full extension; in SI in the range [-100, 100]; if left out: the origin, the bottom bracket */
  chainring_at?: [Length, Length];
  /** name of the body that carries the chainring and takes the torque that turns it; if left out: frame */
  chainring_on?: string;
  /** on the tight run; if left out: the chain goes straight from sprocket to chainring */
  idler?: Idler;
  /** teeth, of the gear that is computed; in SI in the range [6, 120] */
  sprocket: number;
}

/** change of a lever ratio per length of stroke */
export type RatioSlope = string;

/** Axle names one end of the bike. */
export type SagAxle = 'front' | 'rear';

/** Finding is a stable code for what speaks for or against a spring or a fill. */
export type SagFinding = 'on_target' | 'too_soft' | 'too_hard' | 'preload_at_max' | 'preload_at_min' | 'loose' | 'goes_solid' | 'solid_unknown' | 'held_at_top' | 'collapses' | 'fill_at_max' | 'fill_impossible' | 'out_of_geometry' | 'nearest_full' | 'full_unreached' | 'next_reading' | 'readings_disagree' | 'bore_differs' | 'softer_rival' | 'harder_rival' | 'over_marking';

/** Geometry is how the frame and the wheels of a bike lie at a pair of strokes, on the line below both wheels. The steering is straight and the tyres do not deflect. */
export interface SagGeometry {
  /** bottom_bracket_height is that of its centre above the ground. It is 0 without masses.bottom_bracket_height or masses.chainstay_length. Length in mm, cm, m, in, ft. */
  bottom_bracket_height?: Length;
  /** frame-fixed vertical wheel travel over full travel */
  front_sag: number;
  /** along the stanchion or of the shock; length in mm, cm, m, in, ft */
  front_stroke: Length;
  /** length in mm, cm, m, in, ft */
  front_travel: Length;
  /** head_angle is that of a fork, from the ground: its own less the pitch. It is 0 where the front is not a fork. Angle in °, rad. */
  head_angle?: Angle;
  /** of the frame from the ground, positive when the rear sags more; angle in °, rad */
  pitch: Angle;
  rear_sag: number;
  /** length in mm, cm, m, in, ft */
  rear_stroke: Length;
  /** length in mm, cm, m, in, ft */
  rear_travel: Length;
  /** Trail is the distance along the ground from where the steering axis meets it back to below the front axle. It is 0 without masses.fork_offset, where the front is not a fork, and for a head angle of less than 1°. Length in mm, cm, m, in, ft. */
  trail?: Length;
  /** along the ground; length in mm, cm, m, in, ft */
  wheelbase: Length;
}

/** Landing is how an end of the bike takes a drop, from touching the ground to the deepest travel. */
export interface SagLanding {
  /** full travel is reached before the fall is stopped */
  bottoms: boolean;
  /** energy that the damper takes; energy in J, kJ, ft·lbf */
  damper_work: Energy;
  /** kinetic energy ½·m·v² at full travel if it bottoms; energy in J, kJ, ft·lbf */
  energy_left: Energy;
  /** of the spring at the wheel, at travel; force in N, kN, lbf, kgf */
  force: Force;
  /** of the drop; length in mm, cm, m, in, ft */
  height: Length;
  /** the most that spring and damper together push at the wheel; force in N, kN, lbf, kgf */
  peak_force: Force;
  /** from touching the ground to travel; time in s, ms */
  time: Time;
  /** deepest, of the wheel; length in mm, cm, m, in, ft */
  travel: Length;
  /** Travel over the wheel's full travel */
  used: number;
}

/** Loads are the vertical forces at the two wheels of a bike standing level. */
export interface SagLoads {
  /** sprung part of front_wheel_load, what the fork carries; force in N, kN, lbf, kgf */
  front_load: Force;
  /** of the front wheel on the ground; force in N, kN, lbf, kgf */
  front_wheel_load: Force;
  /** sprung part of rear_wheel_load, what the rear spring carries through its linkage; force in N, kN, lbf, kgf */
  rear_load: Force;
  /** rear_wheel_load over the total weight */
  rear_share: number;
  /** of the rear wheel on the ground; force in N, kN, lbf, kgf */
  rear_wheel_load: Force;
}

/** Masses are the rider's and the bike's, and how their weight is shared between the wheels. Give exactly one of rear_share, mass_centre_behind_front_axle with wheelbase, and front_scale with rear_scale. */
export interface SagMasses {
  /** of the whole bike, more than 0; mass in kg, g, lb, oz */
  bike_mass?: Mass;
  /** bike_rear_share is the part of the bike's own weight on the rear wheel with nobody on it, 0 if unknown. */
  bike_rear_share?: number | string;
  /** bottom_bracket_height is the height of the bottom bracket's centre above the ground, and chainstay_length its distance from the rear axle, both at full extension; 0 if unknown. With both of them its height is known wherever the bike rests. Length in mm, cm, m, in, ft. */
  bottom_bracket_height?: Length;
  /** bottom_bracket_height is the height of the bottom bracket's centre above the ground, and chainstay_length its distance from the rear axle, both at full extension; 0 if unknown. With both of them its height is known wherever the bike rests. Length in mm, cm, m, in, ft. */
  chainstay_length?: Length;
  /** fork_offset is the distance of the front axle from the steering axis, at right angles to it and positive ahead of it, −1 m to 1 m. Left out is unknown. With it the trail of a fork is known. Length in mm, cm, m, in, ft. */
  fork_offset?: Length;
  /** front_scale and rear_scale are what two scales show, one under each wheel, with the rider on in the stance the answer is wanted for. They are the loads then, whatever rider_mass and bike_mass add up to. Mass in kg, g, lb, oz. */
  front_scale?: Mass;
  /** wheel_radius is the rolling radius of both wheels under load, or front_wheel_radius and rear_wheel_radius are; 0 if unknown. With mass_centre_height they let the two ends settle together. Length in mm, cm, m, in, ft. */
  front_wheel_radius?: Length;
  /** Wheelbase and mass_centre_behind_front_axle give the share from a mass centre instead: its distance behind the front axle over the wheelbase. Length in mm, cm, m, in, ft. */
  mass_centre_behind_front_axle?: Length;
  /** mass_centre_height is the height of the mass centre of what the springs carry above the ground, at full extension, 0 if unknown. With wheelbase it lets the two ends settle together. Length in mm, cm, m, in, ft. */
  mass_centre_height?: Length;
  /** front_scale and rear_scale are what two scales show, one under each wheel, with the rider on in the stance the answer is wanted for. They are the loads then, whatever rider_mass and bike_mass add up to. Mass in kg, g, lb, oz. */
  rear_scale?: Mass;
  /** rear_share is the part of the total weight on the rear wheel, more than 0 and less than 1, in the stance the answer is wanted for. */
  rear_share?: number | string;
  /** wheel_radius is the rolling radius of both wheels under load, or front_wheel_radius and rear_wheel_radius are; 0 if unknown. With mass_centre_height they let the two ends settle together. Length in mm, cm, m, in, ft. */
  rear_wheel_radius?: Length;
  /** rider_mass is the rider's mass dressed and packed to ride, more than 0. It may be left out if scales show what rider and bike weigh together. Mass in kg, g, lb, oz. */
  rider_mass?: Mass;
  /** unsprung_front and unsprung_rear are the parts of bike_mass that the springs do not carry: wheel, brake, lower legs; wheel, brake, drive and a share of the linkage. 0 or more. Left out is not stated, and the whole load is then on the spring. Mass in kg, g, lb, oz. */
  unsprung_front?: Mass;
  /** unsprung_front and unsprung_rear are the parts of bike_mass that the springs do not carry: wheel, brake, lower legs; wheel, brake, drive and a share of the linkage. 0 or more. Left out is not stated, and the whole load is then on the spring. Mass in kg, g, lb, oz. */
  unsprung_rear?: Mass;
  /** wheel_radius is the rolling radius of both wheels under load, or front_wheel_radius and rear_wheel_radius are; 0 if unknown. With mass_centre_height they let the two ends settle together. Length in mm, cm, m, in, ft. */
  wheel_radius?: Length;
  /** Wheelbase and mass_centre_behind_front_axle give the share from a mass centre instead: its distance behind the front axle over the wheelbase. Length in mm, cm, m, in, ft. */
  wheelbase?: Length;
}

/** Reserve is what an end of the bike can take over its full travel, in a fast stroke. */
export interface SagReserve {
  /** of a drop that just uses the full travel; length in mm, cm, m, in, ft */
  drop_height: Length;
  /** that the spring stores; energy in J, kJ, ft·lbf */
  energy: Energy;
  /** at the wheel, at full travel; force in N, kN, lbf, kgf */
  full_force: Force;
}

/** Rest is where an end of the bike comes to rest under a load. */
export interface SagRest {
  /** of small undamped bounce; frequency in Hz */
  frequency: Frequency;
  /** dw/ds at stroke */
  lever_ratio: number;
  /** Travel over the wheel's full travel */
  sag: number;
  /** shock_sag is stroke over the full stroke. It differs from sag where the lever ratio changes. */
  shock_sag: number;
  /** dF/ds at stroke; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  spring_rate: Stiffness;
  /** travel of the shock, or along the stanchion; length in mm, cm, m, in, ft */
  stroke: Length;
  /** length in mm, cm, m, in, ft */
  stroke_high: Length;
  /** length in mm, cm, m, in, ft */
  stroke_low: Length;
  /** vertical travel of the wheel; length in mm, cm, m, in, ft */
  travel: Length;
  /** travel_low and travel_high bound where friction may hold the wheel: any reading between them agrees with the prediction. Both equal travel where no friction was given. Length in mm, cm, m, in, ft. */
  travel_high: Length;
  /** travel_low and travel_high bound where friction may hold the wheel: any reading between them agrees with the prediction. Both equal travel where no friction was given. Length in mm, cm, m, in, ft. */
  travel_low: Length;
  /** dF/dw at travel; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  wheel_rate: Stiffness;
}

/** Stance is how the whole bike comes to rest on its springs. */
export interface SagStance {
  /** bottom_bracket_height is that of its centre above the ground. It is 0 without masses.bottom_bracket_height or masses.chainstay_length. Length in mm, cm, m, in, ft. */
  bottom_bracket_height?: Length;
  /** sprung: of the wheel on the ground less the unsprung weight, on a slope the part of it towards the ground; force in N, kN, lbf, kgf */
  front_load: Force;
  /** frame-fixed vertical wheel travel over full travel */
  front_sag: number;
  /** along the stanchion or of the shock; length in mm, cm, m, in, ft */
  front_stroke: Length;
  /** length in mm, cm, m, in, ft */
  front_travel: Length;
  /** of the front wheel on the ground, at right angles to it; force in N, kN, lbf, kgf */
  front_wheel_load: Force;
  /** head_angle is that of a fork, from the ground: its own less the pitch. It is 0 where the front is not a fork. Angle in °, rad. */
  head_angle?: Angle;
  /** of the frame from the ground, positive when the rear sags more; angle in °, rad */
  pitch: Angle;
  /** force in N, kN, lbf, kgf */
  rear_load: Force;
  rear_sag: number;
  /** rear_wheel_load over the sum of both, with the bike pitched so */
  rear_share: number;
  /** length in mm, cm, m, in, ft */
  rear_stroke: Length;
  /** length in mm, cm, m, in, ft */
  rear_travel: Length;
  /** force in N, kN, lbf, kgf */
  rear_wheel_load: Force;
  /** Trail is the distance along the ground from where the steering axis meets it back to below the front axle. It is 0 without masses.fork_offset, where the front is not a fork, and for a head angle of less than 1°. Length in mm, cm, m, in, ft. */
  trail?: Length;
  /** along the ground; length in mm, cm, m, in, ft */
  wheelbase: Length;
}

/** Record is what was fitted and measured on a bike at one visit. The next visit starts from it: Record.Arrive returns where an end rests as it was left and as it is now, and Record.Sheet what was recommended. Which fields are needed, and within which range, is said beside them and checked by the library, which names every one that is wrong. */
export interface SettingRecord {
  /** of the visit, as 2026-11-25 */
  date: string;
  /** Extra is a JSON object for an application's own use. It is kept byte for byte, except that ReadRecord removes white space. */
  extra?: Record<string, unknown>;
  /** Front and rear are the ends as they were left; at least one is given. */
  front?: VisitEndRecord;
  /** Job is what was asked for. Its ends have the same curves and the same kinds of spring as front and rear, but a fitted spring need not be of its shelf. */
  job?: SetupJob;
  /** for people; not read */
  note?: string;
  notes?: string[];
  /** Front and rear are the ends as they were left; at least one is given. */
  rear?: VisitEndRecord;
  /** the name and version of this format */
  schema: 'wheelrate/record/1';
  /** Situation is who rode, with which kit, and where. Its conditions are those in which the fills were read. An air spring without an ambient gets the standard atmosphere's at their altitude. */
  situation: VisitSituation;
}

/** Coupled is the recommended set-up with both ends settled together, and the change from each end settled by itself on level ground. Sags are fractions of the wheel's full travel. */
export interface SetupCoupled {
  /** bottom_bracket_height is that of its centre above the ground. It is 0 without masses.bottom_bracket_height or masses.chainstay_length. Length in mm, cm, m, in, ft. */
  bottom_bracket_height?: Length;
  /** sprung: of the wheel on the ground less the unsprung weight, on a slope the part of it towards the ground; force in N, kN, lbf, kgf */
  front_load: Force;
  /** frame-fixed vertical wheel travel over full travel */
  front_sag: number;
  front_sag_change: number;
  /** along the stanchion or of the shock; length in mm, cm, m, in, ft */
  front_stroke: Length;
  /** length in mm, cm, m, in, ft */
  front_travel: Length;
  /** of the front wheel on the ground, at right angles to it; force in N, kN, lbf, kgf */
  front_wheel_load: Force;
  /** head_angle is that of a fork, from the ground: its own less the pitch. It is 0 where the front is not a fork. Angle in °, rad. */
  head_angle?: Angle;
  /** of the frame from the ground, positive when the rear sags more; angle in °, rad */
  pitch: Angle;
  /** force in N, kN, lbf, kgf */
  rear_load: Force;
  rear_sag: number;
  rear_sag_change: number;
  /** rear_wheel_load over the sum of both, with the bike pitched so */
  rear_share: number;
  rear_share_change: number;
  /** length in mm, cm, m, in, ft */
  rear_stroke: Length;
  /** length in mm, cm, m, in, ft */
  rear_travel: Length;
  /** force in N, kN, lbf, kgf */
  rear_wheel_load: Force;
  /** Trail is the distance along the ground from where the steering axis meets it back to below the front axle. It is 0 without masses.fork_offset, where the front is not a fork, and for a head angle of less than 1°. Length in mm, cm, m, in, ft. */
  trail?: Length;
  /** along the ground; length in mm, cm, m, in, ft */
  wheelbase: Length;
}

/** DampingSheet is the damper of one end. */
export interface SetupDampingSheet {
  /** of critical damping about the sag, over a fast stroke */
  ratio: number;
  /** the same at the shock or along the stanchion, at the sag; damping in N·s/m, N·s/mm, lbf·s/in */
  shock: Damping;
  /** coefficient at the wheel; damping in N·s/m, N·s/mm, lbf·s/in */
  wheel: Damping;
}

/** Effect is by how much an answer for one end changes with another value than the one taken, an example. One of the changes is given, or none if it is 0. */
export interface SetupEffect {
  end: SagAxle;
  /** of the exact fill, with the same spacers; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill_change?: GaugePressure;
  /** of the force at full travel over the load */
  full_ratio_change?: number;
  /** of the exact spring rate; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  rate_change?: Stiffness;
  /** by how much the sag may be off to either side, a fraction of the travel */
  sag_band?: number;
  /** a fraction of the travel */
  sag_change?: number;
  /** the other value, in words */
  with: string;
}

/** EndJob is one end of the bike: its curve, its target and what can be fitted, with its damper and a drop to land. */
export interface SetupEndJob {
  /** an air spring; this or coil */
  air?: FitChamber;
  /** coil springs to choose from; this or air */
  coil?: FitShelf;
  /** how far the wheel goes for each stroke of the spring */
  curve: LinkageSpec;
  /** Damping is the coefficient of the damper at the wheel; 0 is an undamped end. damping_ratio states it as a ratio of critical damping at the sag over a fast stroke, from 0 to 20. At most one of them is more than 0. Damping in N·s/m, N·s/mm, lbf·s/in. */
  damping?: Damping;
  /** Damping is the coefficient of the damper at the wheel; 0 is an undamped end. damping_ratio states it as a ratio of critical damping at the sag over a fast stroke, from 0 to 20. At most one of them is more than 0. */
  damping_ratio?: number | string;
  /** of a drop to land, at most 1000 m; 0 is no drop; length in mm, cm, m, in, ft */
  drop_height?: Length;
  /** dry friction at the spring; 0 gives no band; force in N, kN, lbf, kgf */
  friction?: Force;
  gauge?: FitGauge;
  /** target sag, over the wheel's full travel, from a millionth to below 1 */
  sag: number | string;
}

/** EndRest is one end at rest with the recommended spring, under another load than the sheet's. */
export interface SetupEndRest {
  /** held_at_top, collapses, or empty */
  finding?: SagFinding;
  /** sprung; force in N, kN, lbf, kgf */
  load: Force;
  rest: SagRest;
  /** of the wheel on the ground; force in N, kN, lbf, kgf */
  wheel_load: Force;
}

/** EndSheet is the recommended set-up of one end of the bike, and what the end does then. */
export interface SetupEndSheet {
  air?: FitAirAnswer;
  coil?: FitCoilAnswer;
  /** missing for an undamped end */
  damping?: SetupDampingSheet;
  /** that the spring stores over travel_left, in a fast stroke; energy in J, kJ, ft·lbf */
  energy_left?: Energy;
  /** fast_spring_rate, fast_wheel_rate and fast_frequency hold for a stroke about the rest too fast for the gas to exchange heat. For a coil they equal rest's. Frequency in Hz. */
  fast_frequency?: Frequency;
  /** fast_spring_rate, fast_wheel_rate and fast_frequency hold for a stroke about the rest too fast for the gas to exchange heat. For a coil they equal rest's. Stiffness in N/mm, N/m, lbf/in, kgf/mm. */
  fast_spring_rate?: Stiffness;
  /** fast_spring_rate, fast_wheel_rate and fast_frequency hold for a stroke about the rest too fast for the gas to exchange heat. For a coil they equal rest's. Stiffness in N/mm, N/m, lbf/in, kgf/mm. */
  fast_wheel_rate?: Stiffness;
  /** Finding is held_at_top if the spring carries the load without any sag, collapses if the load takes it to full travel, and empty otherwise. */
  finding?: SagFinding;
  /** as the job states it, or 0; force in N, kN, lbf, kgf */
  friction: Force;
  /** Reserve.full_force over load */
  full_ratio?: number;
  gauge?: FitGaugeAnswer;
  /** of the job's drop; missing without one */
  landing?: SagLanding;
  lever_ratio: LinkageProgression;
  /** sprung load at the wheel; force in N, kN, lbf, kgf */
  load?: Force;
  /** on the stand, to confirm the prediction */
  measure: SetupMeasurement[];
  /** min_wheel_rate is the least wheel rate over the travel, standing still, and min_rate_travel where it is. Length in mm, cm, m, in, ft. */
  min_rate_travel?: Length;
  /** min_wheel_rate is the least wheel rate over the travel, standing still, and min_rate_travel where it is. Stiffness in N/mm, N/m, lbf/in, kgf/mm. */
  min_wheel_rate?: Stiffness;
  /** Pump is the steps from the fill that the spring holds to the recommended one, from none where spacers are changed. It is missing for a spring without a negative chamber, where the fill is not stated, and where there is no plan. */
  pump?: AirspringTopUpPlan;
  /** over the full travel */
  reserve?: SagReserve;
  /** standing still */
  rest?: SagRest;
  /** full stroke of the shock, or along the stanchion; length in mm, cm, m, in, ft */
  stroke: Length;
  /** fraction of travel */
  target_sag: number;
  /** full vertical wheel travel; length in mm, cm, m, in, ft */
  travel: Length;
  /** of the wheel, from the rest to full travel; length in mm, cm, m, in, ft */
  travel_left?: Length;
  /** of the wheel on the ground; force in N, kN, lbf, kgf */
  wheel_load: Force;
}

/** FreeSag is the recommended set-up with nobody on the bike. */
export interface SetupFreeSag {
  /** missing for an end that the job does not have or that has no State, as is rear */
  front?: SetupEndRest;
  loads: SagLoads;
  rear?: SetupEndRest;
  /** the job has no bike_rear_share, and that with the rider on is taken */
  share_assumed: boolean;
}

/** GeometrySheet is the geometry with the recommended set-up, at full extension, at rest and at full travel of both ends. */
export interface SetupGeometrySheet {
  extended: SagGeometry;
  full: SagGeometry;
  /** settled together, or each end by itself where Sheet.Coupled is left out */
  rest: SagGeometry;
}

/** Job is a set-up question: which of these springs, or which fill, gives this rider on this bike the sag wanted at each end. If every spring is known by readings of its gauge (fit.Gauge), a job may leave out the bike's mass, the share of the weight, unsprung masses, the air around, a fork's head angle and a shaft's diameter: they hardly move such a fill. The sheet's left_out says what was taken, and Job.Filled returns it. */
export interface SetupJob {
  /** Ambient is the absolute air pressure where the bike is set up. It is required if an air spring does not state its own. Absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a). */
  ambient?: AbsolutePressure;
  /** the fork, or whatever is in front */
  front?: SetupEndJob;
  masses: SagMasses;
  /** for people; repeated on the sheet */
  note?: string;
  /** the rear suspension */
  rear?: SetupEndJob;
  /** Riders are the masses of other riders, dressed to ride, whose set-ups are wanted too: at most 100. Without them the sheet has those of riders up to 15 kg lighter and heavier, in steps of 5 kg. Each a mass in kg, g, lb, oz. */
  riders?: Mass[];
  /** JobSchema */
  schema: string;
  /** at most 100 */
  stances?: SetupNamedStance[];
  uncertainty?: CertaintyUncertainty;
}

/** Measurement is a reading that confirms or refutes a prediction. */
export interface SetupMeasurement {
  /** length in mm, cm, m, in, ft */
  expected: Length;
  /** the most that friction allows; length in mm, cm, m, in, ft */
  high: Length;
  /** the least that friction allows; expected without friction; length in mm, cm, m, in, ft */
  low: Length;
  /** "stroke" at the shock or stanchion, "wheel" for vertical wheel travel */
  what: string;
}

/** NamedStance is a way of standing on the bike, such as seated or descending, by the share of the weight that it puts on the rear wheel, and the ground below it. No stance is predefined. Where both ends do not settle together, the ground is taken as level. */
export interface SetupNamedStance {
  /** front_braking and rear_braking are the braking forces of the ground on the wheels, and driving the driving force on the rear wheel, over the weight of rider and bike: 0 to 5 each. To stand on a slope or keep its speed, a bike takes braking less driving of −sin γ. */
  driving?: number | string;
  /** front_braking and rear_braking are the braking forces of the ground on the wheels, and driving the driving force on the rear wheel, over the weight of rider and bike: 0 to 5 each. To stand on a slope or keep its speed, a bike takes braking less driving of −sin γ. */
  front_braking?: number | string;
  /** what you call it */
  name: string;
  /** front_braking and rear_braking are the braking forces of the ground on the wheels, and driving the driving force on the rear wheel, over the weight of rider and bike: 0 to 5 each. To stand on a slope or keep its speed, a bike takes braking less driving of −sin γ. */
  rear_braking?: number | string;
  /** the part of the weight on the rear wheel of the level bike, between 0 and 1 */
  rear_share: number | string;
  /** Slope is the angle of the ground from the horizontal, −60° to 60°, positive where the bike climbs and negative where it descends. Angle in °, rad. */
  slope?: Angle;
}

/** Omission is what a job does not state: a part of the sheet that is left out for the lack of it, or what was taken for granted in its place. */
export interface SetupOmission {
  /** such as "coupled" or "friction" */
  code: string;
  /** at most one for each end; none where they can't be told */
  effects?: SetupEffect[];
  /** of the job, such as front.air.oil_volume */
  field?: string;
  text: string;
}

/** RiderEnd is the recommended set-up of one end for a rider. */
export interface SetupRiderEnd {
  fill?: FitAirOption;
  gauge?: FitGaugeAnswer;
  /** that of fit.CoilAnswer, for a coil; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  ideal_rate?: Stiffness;
  spring?: FitCoilCandidate;
}

/** RiderSheet is what another rider of the same bike would set. */
export interface SetupRiderSheet {
  /** missing for an end that the job does not have, as is rear */
  front?: SetupRiderEnd;
  /** the rider of the job */
  own?: boolean;
  rear?: SetupRiderEnd;
  /** mass in kg, g, lb, oz */
  rider_mass: Mass;
}

/** StanceSheet is the recommended set-up in one of the job's stances. The Standings are those on level ground, with the wheels rolling freely. */
export interface SetupStanceSheet {
  /** both ends settled together; missing if Sheet.Coupled is */
  coupled?: SagStance;
  /** front_braking and rear_braking are the braking forces of the ground on the wheels, and driving the driving force on the rear wheel, over the weight of rider and bike: 0 to 5 each. To stand on a slope or keep its speed, a bike takes braking less driving of −sin γ. */
  driving?: number | string;
  /** missing for an end that the job does not have or that has no State, as is rear */
  front?: SetupEndRest;
  /** front_braking and rear_braking are the braking forces of the ground on the wheels, and driving the driving force on the rear wheel, over the weight of rider and bike: 0 to 5 each. To stand on a slope or keep its speed, a bike takes braking less driving of −sin γ. */
  front_braking?: number | string;
  loads: SagLoads;
  name: string;
  rear?: SetupEndRest;
  /** front_braking and rear_braking are the braking forces of the ground on the wheels, and driving the driving force on the rear wheel, over the weight of rider and bike: 0 to 5 each. To stand on a slope or keep its speed, a bike takes braking less driving of −sin γ. */
  rear_braking?: number | string;
  /** Slope is the angle of the ground from the horizontal, −60° to 60°, positive where the bike climbs and negative where it descends. Angle in °, rad. */
  slope?: Angle;
}

/** Sheet is the answer to a job as data. */
export interface Sheet {
  cautions: FitCaution[];
  /** missing where it is left out */
  coupled?: SetupCoupled;
  /** missing where it is left out */
  free?: SetupFreeSag;
  /** frequency_ratio is the front's bounce frequency divided by the rear's, both over a fast stroke; 0 if either end has none. */
  frequency_ratio?: number;
  /** missing for an end that the job does not have, as is rear */
  front?: SetupEndSheet;
  /** missing where it is left out */
  geometry?: SetupGeometrySheet;
  left_out: SetupOmission[];
  loads: SagLoads;
  note?: string;
  rear?: SetupEndSheet;
  /** as stated, or the readings of the scales less the bike's mass; mass in kg, g, lb, oz */
  rider_mass: Mass;
  /** those of the job, or lighter and heavier ones, for whom each end has a spring or fill */
  riders?: SetupRiderSheet[];
  /** the name and version of this format */
  schema: 'wheelrate/sheet/1';
  /** those of the job */
  stances?: SetupStanceSheet[];
  /** missing where the job states none */
  uncertainty?: CertaintyBudget;
  warnings: Warning[];
}

/** A pin that slides in a straight slot. */
export interface Slot {
  /** two points of that body, apart from each other, through which the line goes; at full extension the pin is on the line */
  along: [string, string];
  /** name of the body that has the slot */
  on: string;
  /** name of the point that slides; of another body than on */
  point: string;
}

/** dual_rate describes a soft spring in series with a main spring, with a crossover that stops the soft one after a travel of its own: a collar, a spacer, or its coils touching. */
export interface SpringDualRate {
  /** more than 0; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  main_rate: Stiffness;
  /** compression of the main spring, from free, at which it is solid; length in mm, cm, m, in, ft */
  main_travel: Length;
  /** of the two together at travel 0, 0 or more; length in mm, cm, m, in, ft */
  preload?: Length;
  /** more than 0; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  soft_rate: Stiffness;
  /** compression of the soft spring, from free, at which it is stopped; length in mm, cm, m, in, ft */
  soft_travel: Length;
}

/** Group is a group of coils of one pitch. */
export interface SpringGroup {
  /** how far it goes until its coils touch, more than 0; length in mm, cm, m, in, ft */
  gap: Length;
  /** of the group alone, more than 0; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  rate: Stiffness;
}

/** Linear describes a spring of constant rate, compressed by a preload when the suspension is fully extended. */
export interface SpringLinear {
  /** compression at travel 0, 0 or more; length in mm, cm, m, in, ft */
  preload?: Length;
  /** more than 0; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  rate: Stiffness;
  /** usable travel beyond the preload, more than 0; length in mm, cm, m, in, ft */
  travel: Length;
}

/** spring rates */
export type Stiffness = string;

/** mechanical stresses and moduli; never the pressure of a gas */
export type Stress = string;

/** Two of strokes of the shock, vertical wheel travels and lever ratios, from full extension on. */
export interface Table {
  /** of the polynomial of the travel, of the method measured alone; in SI in the range [3, 5]; if left out: 4, and 3 of fewer than 7 values */
  degree?: number;
  /** LR = dw/ds at each stroke, or at each travel where there are no strokes; if left out: stroke and travel are given */
  lever_ratio?: number[];
  /** how the points become a curve; if left out: monotone */
  method?: 'monotone' | 'smooth' | 'measured';
  /** s of the shock; the first is 0 and each is more than the one before by at least a billionth of the last, which is from 1 µm to 1 km; of the method measured see there; if left out: travel and lever_ratio are given */
  stroke?: Length[];
  /** w of the wheel, vertical, at each stroke or beside each ratio; the first is 0, each is more than the one before, beside ratios by at least a billionth of the last, and the last is from 1 µm to 1 km; of the method measured see there; if left out: stroke and lever_ratio are given */
  travel?: Length[];
}

/** temperatures; SI value = (number + zero)·factor */
export type Temperature = string;

/** times */
export type Time = string;

/** AirSetting is an air spring as it is filled. A Travel of 0 is the stroke of the curve. Exponent is from 1 to 2, or 0 if unknown: where the bike rests does not depend on it, and 0 is taken as 1 for fast movements. */
export interface VisitAirSetting {
  /** the air pressure around the spring, above vacuum; may be left out where the job, or the conditions of a record, give it; absolute pressure in kPa(a), Pa(a), bar(a), psia, atm(a) */
  ambient?: AbsolutePressure;
  /** diameter of the piston; length in mm, cm, m, in, ft */
  bore: Length;
  /** n of p·Vⁿ, from 1 (slow) to 2; about 1.4 is fast */
  exponent?: number | string;
  /** fill of the positive chamber at full extension, after slow cycling past the port; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  fill: GaugePressure;
  /** max_fill is the highest fill that the marking on the part permits. No fill above it is offered. Gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g). */
  max_fill: GaugePressure;
  /** negative_chamber is fit.None for a spring that has no negative chamber. */
  negative_chamber?: FitStatement;
  /** volume of the negative chamber at full extension; 0 for none; volume in cm³, mm³, ml, l, m³, in³ */
  negative_volume?: Volume;
  /** oil in the positive chamber; volume in cm³, mm³, ml, l, m³, in³ */
  oil_volume?: Volume;
  /** where the two chambers share their gas, 0 or more and less than the travel; length in mm, cm, m, in, ft */
  port_travel?: Length;
  /** volume of the empty positive chamber at full extension, without oil and spacers; what these leave is more than the travel sweeps; volume in cm³, mm³, ml, l, m³, in³ */
  positive_volume: Volume;
  /** fill of the second chamber; gauge pressure in kPa(g), bar, psi, MPa(g), Pa(g) */
  second_fill?: GaugePressure;
  /** volume of the second chamber, behind a free piston on its stop; 0 for none; volume in cm³, mm³, ml, l, m³, in³ */
  second_volume?: Volume;
  /** diameter of its shaft, less than the bore; length in mm, cm, m, in, ft */
  shaft?: Length;
  /** of one volume spacer; volume in cm³, mm³, ml, l, m³, in³ */
  spacer_volume?: Volume;
  /** how many are fitted */
  spacers?: number;
  /** from full extension to full compression; length in mm, cm, m, in, ft */
  travel?: Length;
}

/** a coil spring as it is fitted: either its rate, or the law of one whose rate varies; without preload_max and spacers the range of the collar is unknown, and up to the stroke of the shock is offered as preload */
export interface VisitCoilSetting {
  /** Spec is a spring whose rate varies, such as a dual-rate, a progressive or a stacked one, from its free length on. It is of at most 30 springs, and those of a shelf of 200 together. */
  law?: LawKindsCoil;
  /** at full extension, 0 or more; length in mm, cm, m, in, ft */
  preload?: Length;
  /** most compression of a spring at full extension; length in mm, cm, m, in, ft */
  preload_max?: Length;
  /** least compression of a spring at full extension, 0 or more; length in mm, cm, m, in, ft */
  preload_min?: Length;
  /** preload_spacers are put under the cap or the collar, any of those at hand: they add their thickness to the preload that the collar gives. A fork without a collar has a preload_min and a preload_max of the preload that it has without any. At most 20, of 100 mm together. */
  preload_spacers?: FitPreloadSpacer[];
  /** of a spring of constant rate, as marked or measured; stiffness in N/mm, N/m, lbf/in, kgf/mm */
  rate?: Stiffness;
  /** compression from free to coil-bound; 0 if unknown, which is a finding; a law is solid at the end of its own travel, or here if that is less; length in mm, cm, m, in, ft */
  solid_travel?: Length;
  /** thread_pitch is the collar's advance per turn, 0.001 mm or more; with it preload is in whole quarter turns. 0 if it is unknown. Length in mm, cm, m, in, ft. */
  thread_pitch?: Length;
}

/** EndRecord is one end as it was left, and what was read on it. */
export interface VisitEndRecord {
  /** an air spring as it is filled; this or coil */
  air?: VisitAirSetting;
  /** a coil spring as it is set; this or air */
  coil?: VisitCoilSetting;
  /** how far the wheel goes for each stroke of the spring */
  curve: LinkageSpec;
  /** at the spring, from 0 to 1e12 N; 0 if unknown; force in N, kN, lbf, kgf */
  friction?: Force;
  /** for people; not read */
  note?: string;
  /** what was read on this end after it was set */
  readings?: VisitReading[];
  /** the ring after a ride with this setting */
  ride?: VisitRide;
  /** Sag is the target as a fraction of the wheel's full travel, from 1e-6 to less than 1. */
  sag: number | string;
  /** what was ridden with this rider before, at most 100 */
  tried?: VisitTried[];
}

/** Felt is a stable code for what a rider says of a setting. */
export type VisitFelt = '' | 'too_soft' | 'too_hard' | 'right';

/** Reading is where a ring on the shaft or the stanchion was after the rider had stood still on the bike. */
export interface VisitReading {
  /** any text */
  date?: string;
  /** the most that the reading may be off to either side; more than 0; length in mm, cm, m, in, ft */
  error: Length;
  /** any text */
  note?: string;
  /** of the shock, from full extension; more than 0 and less than its stroke; length in mm, cm, m, in, ft */
  stroke: Length;
}

/** Ride is where a ring on the shaft or the stanchion was after a ride: the deepest stroke of it. */
export interface VisitRide {
  /** any text */
  date?: string;
  /** the most that the reading may be off to either side; more than 0 and less than stroke; length in mm, cm, m, in, ft */
  error: Length;
  /** any text, such as the trail */
  note?: string;
  /** of the shock, from full extension; more than 0 and at most its stroke, as far as error tells; length in mm, cm, m, in, ft */
  stroke: Length;
}

/** RideVerdict is a stable code for how much of its travel an end used on a ride. */
export type VisitRideVerdict = '' | 'all_used' | 'well_used' | 'little_used';

/** Situation is who rides, with which kit, and where. */
export interface VisitSituation {
  /** Conditions are the temperature of the gas, from 200 to 400 K, and the altitude, from −500 to 11 000 m; missing if unknown. */
  conditions?: AirspringConditions;
  /** of rider and bike, and how they stand on the wheels */
  masses: SagMasses;
}

/** Tried is a setting of an end that was ridden, and what was found. At least one of felt and ride is given. */
export interface VisitTried {
  /** empty if nobody said */
  felt?: VisitFelt;
  /** empty if the ring was not read after the ride */
  ride?: VisitRideVerdict;
  /** at rest with that setting, between 0 and 1 */
  sag: number | string;
}

/** volumes */
export type Volume = string;

/** Warning reports that a result is valid but needs attention: a limit is exceeded, or an assumption does not hold. Code is stable, so that a program can act on it or translate it. */
export interface Warning {
  /** such as "goes_solid" */
  code: string;
  /** what it concerns: a field's name or path, or an end of the bike */
  field?: string;
  /** what it was held against, with its unit */
  limit?: string;
  /** of the limit; empty where it follows from the job itself */
  source?: string;
  /** for people */
  text: string;
  /** what was found, with its unit */
  value?: string;
}
