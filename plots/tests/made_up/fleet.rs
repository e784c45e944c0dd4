//! Fleets made up by formulas.

use slipsoak_engine::fleet::{LEVELS, Outcome, Report, paired, report};
use slipsoak_engine::names::Part;

const HOUR: f64 = 3600.0;

/// Twenty clutches of a fleet: Weibull's quantiles at even shares, censored at a horizon, h.
fn outcomes(scale: f64, shape: f64, horizon: f64) -> Vec<Outcome> {
    (0..20)
        .map(|k: u32| {
            let share = (f64::from(k) + 0.5) / 20.0;
            let life = scale * HOUR * (-(1.0 - share).ln()).powf(1.0 / shape);
            let end = (life < horizon * HOUR).then_some(life);
            Outcome {
                // Numbers not in the order of the lives.
                clutch: (7 * u64::from(k)) % 20,
                end,
                running: end,
                ended_by: end.map(|_| [Part::Washer, Part::Lining, Part::Spring][k as usize % 3]),
                service_due: Some(0.5 * life).filter(|t| *t < horizon * HOUR),
                service_running: Some(0.5 * life).filter(|t| *t < horizon * HOUR),
                running_share: 1.0,
                left: (1..=24).map(|i| (1.0 - horizon * HOUR * f64::from(i) / 24.0 / life).max(0.0)).collect(),
                // The lining lasts as long as the clutch, the washer twice as long.
                reached: (0..7)
                    .map(|part| {
                        let lasts = if part == 0 { life } else { 2.0 * life };
                        let times = LEVELS.iter().map(|left| lasts * (1.0 - left));
                        times.take_while(|t| part % 2 == 0 && *t < horizon * HOUR).collect()
                    })
                    .collect(),
                drags: false,
                springs: None,
                wrong_oil: false,
                descends: false,
                unfit: None,
                hourly: 6000.0,
                launches: 1000,
                blocks: (10, 990),
                beyond: None,
            }
        })
        .collect()
}

/// Fleets by name, scale of their lives, h, and shape.
pub fn fleets(names: &[(&str, f64, f64)]) -> Report {
    let fleet = |(name, scale, shape): &(&str, f64, f64)| {
        report(name, "rounds", 600.0 * HOUR, &[], outcomes(*scale, *shape, 600.0))
    };
    let fleets: Vec<_> = names.iter().map(fleet).collect();
    Report {
        kind: slipsoak_engine::document::Is::default(),
        head: slipsoak_engine::document::Head {
            program: "slipsoak".to_owned(),
            script: "made up".to_owned(),
            title: "Which spring & when?".to_owned(),
            ..Default::default()
        },
        clutches: 20,
        reference: None,
        pairs: paired(&fleets, None),
        fleets,
        failed: vec![],
    }
}
