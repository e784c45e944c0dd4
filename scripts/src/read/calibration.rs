//! The calibration file: read, checked, and applied to a machine.

use crate::read::refusal::Refusal;
use crate::read::saved;
use crate::read::units::{maybe, nearest};
use slipsoak_engine::calibrate::{Calibration, Learned, learnable, setting};
use slipsoak_engine::fleet::{Spread, Uncertain, mixture};
use slipsoak_engine::names::LiningKind;
use slipsoak_engine::parts::{LINING_WEAR, Machine, parameter};

/// What a file of another form should be.
const FORM: &str = "give the calibration.json that `slipsoak calibrate SCRIPT --inspections FILE.csv --out DIR` writes into DIR; `slipsoak schema calibration` describes it";

/// Reads a calibration for a machine with this kind of lining, and refuses wear of another kind; `file` is its name for
/// messages.
pub fn read(file: &str, text: &str, lining: LiningKind) -> Result<Calibration, Refusal> {
    let refused = |why: String| Err(Refusal::new(format!("{file}: {why}")));
    if let Ok(Err(why)) = saved::kind(text) {
        return Err(Refusal::new(format!("{file}, line 1, column 1: {why}; {FORM}")));
    }
    let made: Calibration = serde_json::from_str(text).map_err(|e| Refusal::json(file, &e, FORM))?;
    for c in &made.constants {
        let path = &c.path;
        let Some(p) = setting(path) else {
            let suggestion = nearest(path, learnable().map(|l| l.0.path));
            return refused(format!("`{path}` is no constant that can be learned{}", maybe(suggestion.as_deref())));
        };
        if !(c.value >= p.least && c.value <= p.most) {
            let (value, unit, least, most) = (c.value, p.dimension.unit(), p.least, p.most);
            return refused(format!("{path} is {value} {unit}; it must lie between {least} and {most} {unit}"));
        }
        let (factor, spread) = (c.factor, c.spread);
        if !(spread >= 1.0 && spread.is_finite()) {
            return refused(format!("the spread of {path} is {spread}; a factor is 1 or more"));
        }
        if !(factor >= 1.0 && factor <= spread * (1.0 + 1e-9)) {
            return refused(format!(
                "the factor of {path} is {factor}; it lies between 1 and its spread of {spread}, which holds it"
            ));
        }
    }
    if made.correlation.len() != made.constants.len() || mixture(&made.correlation).is_none() {
        return refused(format!(
            "`correlation` is no correlation matrix of its {} constants: as many rows and columns, alike on both sides of a diagonal of 1, and no mixture of errors with a variance below 0",
            made.constants.len()
        ));
    }
    let wears = made.constants.iter().find(|one| LINING_WEAR.iter().any(|p| p.path == one.path));
    if let Some(one) = wears.filter(|_| made.lining_kind != lining) {
        return refused(format!(
            "{} was learned on the {} lining of the {}, and that of this machine is {}, which wears otherwise; calibrate this machine, or ask without what was learned",
            one.path,
            made.lining_kind.name(),
            made.machine,
            lining.name()
        ));
    }
    Ok(made)
}

/// Puts the constants that a calibration learned into a machine.
pub fn apply(machine: &mut Machine, calibration: &Calibration) {
    machine.idle_kind = calibration.idle_kind.unwrap_or(machine.idle_kind);
    for (p, value) in calibration.constants.iter().filter_map(|one| Some((parameter(&one.path)?, one.value))) {
        machine.change(|machine| (p.put)(machine, value));
    }
}

/// A note that a calibration was learned on another machine; none if it was learned on this one.
pub fn of_another(file: &str, calibration: &Calibration, machine: &Machine) -> Option<String> {
    (calibration.machine != machine.name).then(|| {
        format!(
            "note: {file} was learned on the {}, not on the {}: it tells of wear where lining, washer and bushing are the same parts, and of oil and heat only where bushing and drum are",
            calibration.machine, machine.name
        )
    })
}

/// What a calibration leaves open of its constants, but for those of `own`, whose spreads are defined elsewhere.
///
/// The spread between clutches is assumed independent from constant to constant; only the share of the error is correlated.
pub fn spreads(calibration: &Calibration, own: &[String]) -> Vec<Uncertain> {
    let share = |c: &Learned| if c.spread > 1.0 { c.factor.ln() / c.spread.ln() } else { 0.0 };
    let known = || calibration.constants.iter().enumerate().filter(|(_, c)| !own.contains(&c.path));
    let one = |(k, c): (usize, &Learned)| {
        let of = |(j, other): (usize, &Learned)| {
            (other.path.clone(), calibration.correlation[k][j] * share(c) * share(other))
        };
        let correlated = known().take_while(|(j, _)| *j < k).map(of).filter(|(_, r)| *r != 0.0).collect();
        Uncertain { correlated, ..Uncertain::alone(&c.path, Spread::Factor(c.spread)) }
    };
    known().map(one).collect()
}
