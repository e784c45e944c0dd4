//! What a machine chooses by name: oil, form, kinds of lining and idle.

use super::machine_error::MachineError;
use super::similar::nearest;
use crate::parts::{Form, IdleKind, LiningKind, OILS, Oil};

fn named<T>(what: &'static str, given: &str, known: &[&str], found: Option<T>) -> Result<T, MachineError> {
    found.ok_or_else(|| MachineError::Name {
        what,
        given: given.to_owned(),
        known: known.join(", "),
        suggestion: nearest(given, known.iter().copied()),
    })
}

/// The oil with that name.
pub fn oil(given: &str) -> Result<Oil, MachineError> {
    let [known, wrong] = Oil::names();
    // "SAE30" and "sae-30" are the same oil.
    let plain = |name: &str| name.replace([' ', '-'], "").to_lowercase();
    let same = OILS.iter().find(|oil| plain(oil.0) == plain(given));
    same.and_then(|oil| Oil::named(oil.0)).ok_or_else(|| MachineError::Name {
        what: "the oil",
        given: given.to_owned(),
        known: format!("{}; never use one {}, which are modelled only to show why", known.join(", "), wrong.join(", ")),
        suggestion: nearest(given, known.iter().copied()),
    })
}

/// The forms with their names.
pub const FORMS: [(&str, Form); 4] =
    [("floating", Form::Floating), ("leading", Form::Leading), ("trailing", Form::Trailing), ("wedge", Form::Wedge)];

/// Other names of the kinds of lining.
const LINING_NAMES: [(&str, LiningKind); 5] = [
    ("molded", LiningKind::Moulded),
    ("sintered metal", LiningKind::Sintered),
    ("sintered bronze", LiningKind::Sintered),
    ("bare", LiningKind::BareMetal),
    ("no lining", LiningKind::BareMetal),
];

/// The form with that name.
pub fn form(given: &str) -> Result<Form, MachineError> {
    let found = FORMS.iter().find(|one| one.0 == given).map(|one| one.1);
    named("the form", given, &FORMS.map(|one| one.0), found)
}

/// The kind of lining with that name.
pub fn lining(given: &str) -> Result<LiningKind, MachineError> {
    let lower = given.trim().to_lowercase();
    if lower == "organic" {
        return Err(MachineError::TwoMeanings {
            what: "the lining",
            given: given.to_owned(),
            of: ["woven", "moulded"],
        });
    }
    let kind = LINING_NAMES.iter().find(|name| name.0 == lower).map_or(lower.as_str(), |name| name.1.name());
    named("the lining", given, &LiningKind::ALL.map(LiningKind::name), LiningKind::named(kind))
}

/// The kind of idle with that name.
pub fn idle_kind(given: &str) -> Result<IdleKind, MachineError> {
    named(
        "the kind of idle",
        given,
        &["throttle stop", "governed"],
        IdleKind::named(given).filter(|i| *i != IdleKind::Unstated),
    )
}
