//! Learned constants.

use super::said::{Said, sentences};
use crate::made_up::learned::told;
use slipsoak_plots::words;

pub fn learned() -> Vec<Said> {
    let mut told = told();
    let sure = words::calibration::answer(&told);
    (told.calibration.quality.widened, told.forecast) = (1.4, None);
    let all = told.calibration.constants.iter().cycle().take(6).cloned().collect();
    told.calibration.constants = all;
    let mut agrees = told.clone();
    agrees.calibration.constants.iter_mut().for_each(|one| one.before = one.value);
    agrees.calibration.constants.truncate(1);
    // Nine and a half times: beyond three either way, twice over.
    let mut far = agrees.clone();
    far.calibration.constants[0].value = 9.5 * far.calibration.constants[0].before;
    let near = |of: f64| {
        let mut told = far.clone();
        told.calibration.constants[0].value = of * told.calibration.constants[0].before;
        words::calibration::answer(&told)[0].text()
    };
    assert!(near(9.1).starts_with("Check the readings") && near(8.9).starts_with("Plan by"), "{}", near(8.9));
    // One clutch wears a tenth of what is fitted, the other twice that.
    let mut contrary = agrees.clone();
    let washer = &mut contrary.evidence[0];
    for reading in &mut washer.readings {
        let share = if reading.of == "one" { 0.1 } else { 2.0 };
        reading.value =
            washer.curve[0][2] + share * (washer.curve[24][2] - washer.curve[0][2]) * reading.at / washer.curve[24][0];
    }
    let apart = words::calibration::answer(&contrary);
    let said = apart[0].text();
    let expected = "the washer of <script> changes 20 times as much as that of one in the same time (0.3\u{a0}mm by 240\u{a0}h, 0.015\u{a0}mm by 240\u{a0}h)";
    assert!(said.starts_with("Check the readings of one and <script>") && said.contains(expected), "{said}");
    vec![
        sentences("learned constants of two clutches that contradict each other", &apart),
        sentences("learned constants", &sure),
        sentences("learned constants, many, readings scatter more than stated", &words::calibration::answer(&told)),
        sentences("learned constants that agree", &words::calibration::answer(&agrees)),
        sentences("learned constants beyond all that was thought possible", &words::calibration::answer(&far)),
        sentences("what data leave undetermined", &words::calibration::open(&told.calibration)),
    ]
}
