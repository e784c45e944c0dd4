//! A constant to be fitted: start value, scale, and prior.

/// The scale on which a constant is fitted; its bounds follow from it.
#[derive(Clone, Copy, Debug, PartialEq)]
pub enum Scale {
    /// the value itself: any value
    Plain,
    /// the value itself: zero or above
    NotNegative,
    /// its logarithm: above zero
    Logarithm,
}

impl Scale {
    /// Place of a value on the scale.
    ///
    /// ```
    /// use slipsoak_engine::calibrate::Scale;
    /// assert_eq!(Scale::Logarithm.value(Scale::Logarithm.place(1.0)), 1.0);
    /// ```
    pub fn place(self, value: f64) -> f64 {
        match self {
            Self::Plain | Self::NotNegative => value,
            Self::Logarithm => libm::log(value),
        }
    }

    /// Value at a place on the scale.
    pub fn value(self, place: f64) -> f64 {
        match self {
            Self::Plain | Self::NotNegative => place,
            Self::Logarithm => libm::exp(place),
        }
    }

    /// Derivative of the value along the scale.
    pub fn slope(self, place: f64) -> f64 {
        match self {
            Self::Plain | Self::NotNegative => 1.0,
            Self::Logarithm => libm::exp(place),
        }
    }
}

/// A constant to be fitted.
#[derive(Clone, Debug, PartialEq)]
pub struct Constant {
    /// its name
    pub name: String,
    /// start of the search, and median of the prior
    pub start: f64,
    /// the scale on which it is fitted
    pub scale: Scale,
    /// standard deviation of the prior on that scale; none without a prior
    pub known: Option<f64>,
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn value_inverts_place_and_slope_is_its_derivative() {
        for scale in [Scale::Plain, Scale::NotNegative, Scale::Logarithm] {
            let place = scale.place(1.7);
            assert!((scale.value(place) - 1.7).abs() < 1e-14, "{scale:?}");
            // Central difference: its error is of the square of the step, 1e-10.
            let slope = (scale.value(place + 1e-5) - scale.value(place - 1e-5)) / 2e-5;
            assert!((scale.slope(place) / slope - 1.0).abs() < 1e-8, "{scale:?}");
        }
    }
}
