//! Every assumed constant has a measurement that would show it, and the columns that it names exist.

use slipsoak_engine::calibrate::{Condition, Quantity, learnable};
use slipsoak_engine::fleet::ASSUMED;
use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::{Confidence, PARAMETERS, Parameter};
use slipsoak_plots::words::measure::{measured_by, named};

#[test]
fn no_assumed_constant_lacks_what_to_measure() {
    let assumed = PARAMETERS.iter().filter(|p| p.confidence == Confidence::Assumed);
    let sampled = ASSUMED.iter().map(|known| known.0);
    let all: Vec<&Parameter> = assumed.chain(sampled).chain(learnable().map(|l| l.0)).collect();
    assert!(all.len() > 100);
    let lacking: Vec<&Parameter> = all.into_iter().filter(|p| measured_by(p).is_none()).collect();
    assert!(lacking.is_empty(), "nothing to measure: {lacking:?}");
}

#[test]
fn what_to_measure_names_settings_once_and_columns_that_exist() {
    let mut seen = vec![];
    for p in named() {
        assert!(!seen.contains(&p), "{p:?} stands twice");
        seen.push(p);
        let hint = measured_by(p).expect("named");
        for column in hint.split('`').skip(1).step_by(2) {
            let read = Quantity::ALL.iter().any(|q| q.name() == column)
                || Condition::ALL.iter().any(|c| c.name() == column)
                || Channel::named(column).is_some_and(Channel::is_temperature);
            assert!(read, "{p:?}: `{column}` is no column");
        }
    }
}

#[test]
fn a_reading_is_named_by_each_constant_that_it_teaches() {
    for quantity in Quantity::ALL {
        for p in quantity.row().teaches {
            let hint = measured_by(p).expect("a measurement");
            assert!(hint.contains(&format!("`{}`", quantity.name())), "{p:?}: {hint}");
        }
    }
}
