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
    vec![
        sentences("learned constants", &sure),
        sentences("learned constants, many, readings scatter more than stated", &words::calibration::answer(&told)),
        sentences("learned constants that agree", &words::calibration::answer(&agrees)),
        sentences("learned constants beyond all that was thought possible", &words::calibration::answer(&far)),
        sentences("what data leave undetermined", &words::calibration::open(&told.calibration)),
    ]
}
