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
    vec![
        sentences("learned constants", &sure),
        sentences("learned constants, many, readings scatter more than stated", &words::calibration::answer(&told)),
        sentences("learned constants that agree", &words::calibration::answer(&agrees)),
        sentences("what data leave undetermined", &words::calibration::open(&told.calibration)),
    ]
}
