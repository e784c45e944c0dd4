//! Methods of measuring: what is done, how, and when.

use crate::words::number::figures;
use crate::words::say::{time, turns};
use crate::words::text::Words;
use slipsoak_engine::measure_plan::{Candidate, DRAG, SPIN, effort};
use slipsoak_engine::names::Method;
use slipsoak_engine::units::MINUTE;

/// What is measured, in the imperative.
pub const fn act(method: Method) -> &'static str {
    match method {
        Method::Weigh => "Weigh drum and bushing",
        Method::Washer => "Measure the thickness of the washer",
        Method::Bushing => "Measure the clearance of the bushing",
        Method::Lining => "Measure the thickness of the lining",
        Method::Engagement => "Read the engagement speed by a tachometer",
        Method::Spring => "Pull each shoe off its rest with a scale",
        Method::Idle => "Read the warm idle by a tachometer",
        Method::Drop => "Read the drop of the warm idle under a known drag",
        Method::Face => "Read the drum by infra-red at the end of a ride",
        Method::SpinDown => "Time the spin-down of the drum",
        Method::Log => "Log a ride with four thermocouples",
    }
}

/// How it is done, with what to mind.
pub fn how(method: Method) -> Words {
    match method {
        Method::Weigh => "Motor off and cold. Wipe drum and bushing clean, fill the bushing, let it stand overnight, wipe it and weigh both together to 5 mg. Do not oil before the second weighing.".into(),
        Method::Washer => "Motor off and cold. Measure the washer in three places with a micrometer and take the mean.".into(),
        Method::Bushing => "Motor off and cold. Measure bore and shaft in two directions; the difference is the clearance.".into(),
        Method::Lining => "Motor off and cold. Measure each lining in its middle and take the mean. Do not blow the dust off.".into(),
        Method::Engagement => "Wheels lifted, guards on, nobody near the chain. Raise the speed slowly and read where the drum begins to turn, three times.".into(),
        Method::Spring => "Motor off and cold, eye protection on. Pull each shoe with a scale and read the force at which it leaves its rest.".into(),
        Method::Idle => "Guards on, brake on. Let the motor warm up for 10 min and read its idle over a minute.".into(),
        Method::Drop => format!("Guards on, brake on, motor warm. Load the motor with a known drag of about {} N·m for some seconds and read by how much its idle drops.", figures(DRAG, 2)).into(),
        Method::Face => "Paint a dot of matt black on the cold drum: bare steel reads far too cold. After the ride, motor off, read the dot at once and do not touch the drum, it burns. If you let the clutch slip on purpose, for at most 5 s.".into(),
        Method::SpinDown => Words::from(format!("Motor off, chain, washer and cover off. Spin the drum to {} and take the time until it is at rest, three times, at ", turns(SPIN.0))).temperature(SPIN.1).plain("."),
        Method::Log => "Fit thermocouples to drum, shoes, bushing and sprocket, motor off, and tie the wires clear of chain and shoes. Guards on before the motor starts. Log one ride and the hour after it.".into(),
    }
}

/// When it is done, with its work: "before and after 20 h of riding (2 × 15 min)".
pub fn when(candidate: &Candidate) -> String {
    let (each, twice) = effort(candidate.method);
    let minutes = figures(each / MINUTE, 2);
    if twice {
        format!("before and after {} of riding (2 × {minutes} min)", time(candidate.wait))
    } else {
        format!("once ({minutes} min)")
    }
}
