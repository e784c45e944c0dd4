//! A simulation that is repeated with smaller steps if its integration fails.

use super::{Failure, Tolerance};

/// Factor on the tolerance when a failed simulation is repeated.
pub(crate) const FINER: f64 = 0.1;

/// A simulation, repeated with smaller steps if the integration fails.
pub(crate) fn repeated<T>(tolerance: Tolerance, ride: impl Fn(Tolerance) -> Result<T, Failure>) -> Result<T, Failure> {
    ride(tolerance).or_else(|failure| match failure {
        Failure::Invalid(_) | Failure::Duty { .. } => Err(failure),
        _ => ride(tolerance.times(FINER)),
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_failed_integration_is_repeated_with_smaller_steps_but_an_invalid_machine_is_not() {
        let open = || Failure::Nonsense { what: "a channel".to_owned(), time: 1.0, far: "none".to_owned() };
        let fine = |tolerance: Tolerance| if tolerance.rest < 0.5 { Ok(tolerance.rest) } else { Err(open()) };
        assert_eq!(repeated(Tolerance::CLOSE, fine), Ok(FINER));
        assert_eq!(repeated(Tolerance::alike(FINER), fine), Ok(FINER));
        assert_eq!(repeated(Tolerance::alike(10.0), fine), Err(open()));
        let tried = std::cell::Cell::new(0);
        let refused = repeated(Tolerance::CLOSE, |_| -> Result<(), Failure> {
            tried.set(tried.get() + 1);
            let (least, most) = (0.0, 60.0);
            Err(Failure::Duty { what: "a speed", value: -1.0, unit: "m/s", least, most })
        });
        assert!(refused.is_err() && tried.get() == 1);
    }
}
