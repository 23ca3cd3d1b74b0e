// What each computation is computed by, and what each form is made into.

import * as air from './air.mjs';
import * as bike from './bike.mjs';
import * as calibration from './calibrate.mjs';
import * as coils from './coil.mjs';
import * as curves from './curve.mjs';
import * as chains from './drivetrain.mjs';
import * as gas from './gas.mjs';
import { checkLanding, landing } from './landing.mjs';
import * as laws from './law.mjs';
import * as linkages from './linkage.mjs';
import { Mechanism } from './mechanism.mjs';
import { RealGases } from './realgas.mjs';
import { checkWhole, whole } from './whole.mjs';

/** forms and computations, with the dataset's data at hand. */
export function subjects(description, directory) {
  const materials = new coils.Materials(directory, description);
  const gases = new RealGases(description.of('airspring.gas'));

  const forms = {
    coil: { check: (input) => coils.checkCoil(input, materials) },
    coil_installed: { check: coils.checkInstalledCoil, build: (v) => laws.linear(coils.installedCoil(v, materials)) },
    linear: { build: laws.linear },
    dual_rate: { check: laws.checkDualRate, build: laws.dualRate },
    linear_pitch: { check: laws.checkLinearPitch, build: laws.linearPitch },
    law: { check: laws.checkLaw, build: laws.lawOf },
    airspring: { check: air.checkAirSpring },
    airspring_filled: { build: (v) => new air.AirSpring(v) },
    fork: { build: curves.fork },
    table: { check: curves.checkTable, build: curves.table },
    mechanism: { check: linkages.checkMechanism, build: (v) => new Mechanism(v) },
    'linkage.joints': { check: linkages.checkJoint },
    'linkage.sensitivity': { check: linkages.checkSensitivity },
    gauge_reading: { check: calibration.checkReading },
    load_reading: { check: calibration.checkReading },
    'airspring.calibrate': { check: calibration.checkCalibration },
    'sag.calibrate': { check: calibration.checkCalibration },
    'linkage.drivetrain': { check: chains.checkDrivetrain },
    end: { build: (v) => new bike.End(v) },
    'sag.landing': { check: checkLanding },
    'sag.whole': { check: checkWhole },
    curve: { build: curves.curveOf },
    masses: { check: bike.checkMasses },
    'sag.implied': { check: bike.checkImplied },
    'sag.correct': { check: bike.checkCorrect },
    'sag.bands': { check: bike.checkBands },
    'spring.strength': { check: (input) => coils.checkStrength(input, materials) },
    'spring.caliper': { check: coils.checkCaliper },
    'spring.readings': { check: coils.checkReadings },
    'spring.law': { check: laws.checkLawAt },
    'airspring.fill': { check: air.checkFill },
    'airspring.topup': { check: air.checkTopUp },
    'airspring.conditions': { check: gas.checkConditions },
    'airspring.heat': { check: gas.checkHeat },
    'airspring.hold': { check: gas.checkHold },
    'airspring.gas': { check: (input) => { if (input.good('gas') && !gases.has(input.values.gas)) input.refuse('gas'); } },
    'units.convert': { check: (input) => checkConvert(input, description) },
  };

  const computations = {
    'units.convert': ({ kind, value }) => ({ value: description.parse(kind, value) }),
    'spring.coil': (v) => coils.coil(v, materials),
    'spring.strength': (v) => coils.strength(v, materials),
    'spring.warm': coils.warm,
    'spring.caliper': coils.caliper,
    'spring.readings': coils.readings,
    'spring.law': laws.lawAt,
    'airspring.law': air.airSpringLaw,
    'airspring.fill': air.airSpringFill,
    'airspring.topup': air.topUp,
    'airspring.hose': air.hose,
    'airspring.conditions': gas.conditions,
    'airspring.atmosphere': gas.atmosphere,
    'airspring.polytropic': gas.polytropic,
    'airspring.heat': gas.heat,
    'airspring.hold': gas.hold,
    'airspring.gas': (v) => gases.compress(v),
    'airspring.calibrate': calibration.calibrate,
    'sag.calibrate': calibration.calibrateAtWheel,
    'linkage.table': curves.tableAt,
    'linkage.mechanism': linkages.motion,
    'linkage.joints': linkages.joints,
    'linkage.sensitivity': linkages.sensitivity,
    'linkage.drivetrain': chains.drivetrain,
    'linkage.wheel': bike.wheel,
    'sag.loads': bike.loads,
    'sag.settle': bike.settle,
    'sag.rate': bike.rate,
    'sag.fill': bike.fill,
    'sag.correct': bike.correct,
    'sag.bands': bike.bands,
    'sag.reserve': bike.reserve,
    'sag.whole': whole,
    'sag.landing': landing,
    'sag.damping': bike.damping,
    'sag.implied': bike.implied,
  };

  return { forms, computations };
}

function checkConvert(input, description) {
  const { kind, value } = input.values;
  if (kind === undefined || value === undefined) return;
  const least = description.least(kind);
  const converted = description.parse(kind, value);
  if (converted === undefined || converted < least) input.refuse('value');
}
