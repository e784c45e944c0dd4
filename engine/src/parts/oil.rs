//! An oil: viscosity at two temperatures, density, surface tension, and its effect on the lining.

/// An oil's data, SI.
#[derive(Clone, Debug, PartialEq)]
pub struct Oil {
    /// name in scripts
    pub name: String,
    /// kinematic viscosity at 40 °C, m²/s
    pub viscosity_40: f64,
    /// kinematic viscosity at 100 °C, m²/s
    pub viscosity_100: f64,
    /// density at 15 °C, kg/m³
    pub density_15: f64,
    /// surface tension at 20 °C, N/m
    pub tension_20: f64,
    /// change of surface tension with temperature, N/(m·K)
    pub tension_slope: f64,
    /// share of the oil on a lining that is neither wiped nor burnt off, 0 to 1
    pub lasting: f64,
    /// friction coefficient of a lining wet with the lasting share
    pub lasting_friction: f64,
}

/// Oils known by name: mid-grade kinematic viscosities, cSt at 40 and 100 °C; plain mineral oils except the last three.
pub const OILS: &[(&str, f64, f64, f64)] = &[
    ("SAE 20", 58.0, 7.9, 0.0),
    ("SAE 30", 100.0, 11.2, 0.0),
    ("SAE 40", 148.0, 14.5, 0.0),
    ("ISO VG 68", 68.0, 8.7, 0.0),
    ("ISO VG 100", 100.0, 11.2, 0.0),
    ("ISO VG 150", 150.0, 14.7, 0.0),
    ("with PTFE", 100.0, 11.2, 1.0),
    ("with silicone", 100.0, 11.2, 1.0),
    ("with friction modifier", 100.0, 11.2, 1.0),
];

impl Oil {
    /// The oil with that name, if it is known.
    pub fn named(name: &str) -> Option<Self> {
        let &(name, at_40, at_100, lasting) = OILS.iter().find(|o| o.0.eq_ignore_ascii_case(name))?;
        Some(Self {
            name: name.to_owned(),
            viscosity_40: at_40 * 1e-6,
            viscosity_100: at_100 * 1e-6,
            density_15: 885.0,
            tension_20: 31.0e-3,
            tension_slope: -0.07e-3,
            lasting,
            lasting_friction: 0.06,
        })
    }

    /// Names of the oils that may be used, and of those that are modelled only to show why not.
    pub fn names() -> [Vec<&'static str>; 2] {
        let named = |wrong: bool| OILS.iter().filter(|oil| (oil.3 > 0.0) == wrong).map(|oil| oil.0).collect();
        [named(false), named(true)]
    }

    /// Whether some of it stays on a lining, as PTFE, silicone and friction modifiers do: such an oil is none to use.
    pub fn is_wrong(&self) -> bool {
        self.lasting > 0.0
    }
}

impl Default for Oil {
    fn default() -> Self {
        Self::named("SAE 30").expect("the table holds it")
    }
}
