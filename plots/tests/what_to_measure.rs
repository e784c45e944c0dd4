//! Every assumed constant has a measurement that would show it, and the columns that it names exist.

use slipsoak_engine::calibrate::{Condition, Quantity, learnable};
use slipsoak_engine::fleet::ASSUMED;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Confidence, PARAMETERS, parameter};
use slipsoak_plots::words::measure::{measured_by, named};

#[test]
fn no_assumed_constant_lacks_what_to_measure() {
    let assumed = PARAMETERS.iter().filter(|p| p.confidence == Confidence::Assumed).map(|p| p.path);
    let sampled = ASSUMED.iter().map(|known| known.0);
    let all: Vec<&str> = assumed.chain(sampled).chain(learnable().map(|l| l.0)).collect();
    assert!(all.len() > 100);
    let lacking: Vec<&str> = all.into_iter().filter(|path| measured_by(path).is_none()).collect();
    assert!(lacking.is_empty(), "nothing to measure: {lacking:?}");
}

#[test]
fn what_to_measure_names_settings_once_and_columns_that_exist() {
    let mut seen = vec![];
    for path in named() {
        assert!(parameter(path).is_some(), "{path}");
        assert!(!seen.contains(&path), "{path} stands twice");
        seen.push(path);
        let hint = measured_by(path).expect("named");
        for column in hint.split('`').skip(1).step_by(2) {
            let read = Quantity::ALL.iter().any(|q| q.row().name == column)
                || Condition::ALL.iter().any(|c| c.row().name == column)
                || Channel::named(column).is_some_and(Channel::is_temperature);
            assert!(read, "{path}: `{column}` is no column");
        }
    }
}

#[test]
fn a_reading_is_named_by_each_constant_that_it_teaches() {
    for quantity in Quantity::ALL {
        for path in quantity.row().teaches {
            let hint = measured_by(path).expect("a measurement");
            assert!(hint.contains(&format!("`{}`", quantity.row().name)), "{path}: {hint}");
        }
    }
}
