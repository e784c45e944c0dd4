//! Sentences on sensitivities: which setting moves a life most, and how the table is read.

use crate::words::fault::in_brief;
use crate::words::measure::measured_by;
use crate::words::reading::brief;
use crate::words::say::{calendar as calendar_time, time};
use crate::words::text::{Words, listed};
use crate::words::use_of_machine;
use slipsoak_engine::fault::Fault;
use slipsoak_engine::parts::{in_words, parameter};
use slipsoak_engine::sensitivity::{Answer, Influence, Measure, Ranking};

/// Rows of a design below which its shares of variance mean little.
const FEW: u64 = 128;
/// Changes of end and service, s, and of the lining's peak, K, that count as none.
const LEAST: [f64; 3] = [1.0, 1.0, 0.1];

/// Whether a setting moves a measure.
pub(crate) fn moves(measure: Measure, influence: &Influence, horizon: Option<f64>) -> bool {
    Measure::ALL.iter().zip(LEAST).any(|(one, least)| *one == measure && influence.swing(measure, horizon) > least)
}

/// Most settings that are named by which alone a machine no longer fits, for each fault.
const NAMED: usize = 4;

/// How sure the ranking is.
pub const SURE: &str = "Each setting is moved from its P10 to its P90 with all others at their nominal values. The spreads of assumed constants are estimates themselves, that of the end leakage the least certain.";

/// A time of an answer as text.
pub(crate) fn told(measure: Measure, answer: &Answer, horizon: Option<f64>) -> String {
    let seen = if measure == Measure::End { answer.end } else { answer.service_due };
    match (seen, measure.of(answer, horizon)) {
        (Some(t), _) => time(t),
        (None, Some(cut)) => format!("more than {}", time(cut)),
        (None, None) => "–".to_owned(),
    }
}

/// The life with everything nominal: running time, and in brackets by the calendar where the duty rests, and the part.
fn lasts(ranking: &Ranking) -> String {
    let end = Measure::End.of(&ranking.nominal, ranking.horizon);
    let calendar =
        end.map(|end| end / ranking.running_share.max(1e-9)).filter(|by| end.is_some_and(|end| *by > 1.1 * end));
    let calendar = calendar.map(|by| format!("{} by the calendar", calendar_time(by)));
    let part = ranking.nominal.ended_by.map(|part| brief(part).to_owned());
    let more: Vec<String> = calendar.into_iter().chain(part).collect();
    let more = if more.is_empty() { String::new() } else { format!(" ({})", more.join("; ")) };
    format!("{} of running{more}", told(Measure::End, &ranking.nominal, ranking.horizon))
}

/// What to measure to know a variable better.
pub(crate) fn measured(influence: &Influence) -> Option<&'static str> {
    let paths = influence.settings.iter().map(|s| &s.path);
    std::iter::once(&influence.draw).chain(paths).find_map(|path| measured_by(parameter(path)?))
}

/// What one tenth of the clutches fall short of and one tenth exceed where they differ in one setting alone, in hours of running; where
/// a value in the middle is the best or the worst, the hours at both ends of the setting.
fn ends(measure: Measure, influence: &Influence, ranking: &Ranking) -> Option<String> {
    let last = match measure {
        Measure::End => "lasts",
        Measure::Service => "needs oil after",
        Measure::LiningPeak => return None,
    };
    let of = |answer: &Answer| measure.of(answer, ranking.horizon);
    let (nominal, low, high) = (of(&ranking.nominal)?, of(&influence.low)?, of(&influence.high)?);
    let [at_low, at_high] = [&influence.low, &influence.high].map(|answer| told(measure, answer, ranking.horizon));
    if nominal < low.min(high) || nominal > low.max(high) {
        return Some(format!(
            "{at_low} of running at the value that one clutch in ten stays below, {at_high} at the one that one in ten exceeds"
        ));
    }
    // Oil that outlasts a worn part has no hours of its own.
    if measure == Measure::Service && influence.low.service_due.is_none() && influence.high.service_due.is_none() {
        return None;
    }
    let ends = [(at_low, &influence.low), (at_high, &influence.high)];
    let [(short, _), (long, longer)] = if low < high {
        ends
    } else {
        let [a, b] = ends;
        [b, a]
    };
    let outlasts = |answer: &Answer| measure == Measure::End && answer.end.is_none();
    let long = match (outlasts(&ranking.nominal), outlasts(longer), long.trim_start_matches("more than ")) {
        (true, true, cut) => format!("; most outlast the {cut} that were simulated"),
        (false, true, cut) => format!(", and more than one in ten outlast the {cut} that were simulated"),
        (_, false, long) => format!(", and one in ten more than {long}"),
    };
    Some(format!("by it alone one clutch in ten {last} less than {short} of running{long}"))
}

/// Life with everything nominal, and the setting that moves it most.
pub fn verdict(ranking: &Ranking) -> Words {
    let words = Words::default().strong(format!("{}, {}", ranking.variant, ranking.duty));
    let nominal = lasts(ranking);
    let due = ranking.nominal.service_due.or(ranking.horizon);
    let due = due.map(|_| format!("{} of running", told(Measure::Service, &ranking.nominal, ranking.horizon)));
    let oil = due.map_or_else(|| "its oil is not due before".to_owned(), |due| format!("its oil is due after {due}"));
    let nominal = format!("{nominal}, and {oil},");
    let Some(first) = ranking.influences.first() else {
        return words.plain(format!(": a part is worn out (oil set apart) after {}.", nominal.trim_end_matches(',')));
    };
    if first.swing(Measure::End, ranking.horizon) <= 1.0 {
        let [within, n] = [
            ranking.horizon.map_or_else(String::new, |h| format!(" within {} of running", time(h))),
            ranking.influences.len().to_string(),
        ];
        return words.plain(format!(": a part is worn out (oil set apart) after {nominal} with everything nominal; no setting ({n} tried) changes that{within}: repeat the duty for longer."));
    }
    let ends = ends(Measure::End, first, ranking).map_or_else(|| ".".to_owned(), |ends| format!(": {ends}."));
    words
        .plain(format!(
            ": a part is worn out (oil set apart) after {nominal} with everything nominal; what changes that most is "
        ))
        .strong(in_words(&first.draw))
        .plain(ends)
        .plain(measured(first).map_or_else(String::new, |by| format!(" To know it better, measure: {by}.")))
}

/// That a machine has an oil that is never to be used, or a duty puts it on; none if not.
pub fn wrong_oil(ranking: &Ranking, several: bool) -> Option<Words> {
    let of = if several { format!("the oil of {}, {}", ranking.variant, ranking.duty) } else { "this oil".to_owned() };
    ranking.nominal.wrong_oil.then(|| use_of_machine::wrong_oil(&of, ""))
}

/// Why a machine does not fit with everything nominal, or by which settings alone it no longer does; none if by none. A margin over
/// the idle, and an oil, hold for all values alike.
pub fn unfit(ranking: &Ranking, several: bool) -> Option<Words> {
    let of = if several { format!("{}, {},", ranking.variant, ranking.duty) } else { "The machine".to_owned() };
    if let Some(fault) = ranking.nominal.fault {
        let words = Words::default().strong(format!("{of} does not fit"));
        return Some(words.plain(format!(" with everything nominal ({}).", in_brief(fault))));
    }
    let alike = |fault: &Fault| matches!(fault, Fault::Near | Fault::Settles | Fault::Additive);
    let found = |answer: &Answer| answer.fault.filter(|fault| !alike(fault)).map(in_brief);
    let mut by: Vec<(&str, Vec<String>)> = vec![];
    for influence in moving(ranking) {
        for (answer, at) in [(&influence.low, "P10"), (&influence.high, "P90")] {
            let Some(what) = found(answer) else { continue };
            let setting = format!("{} at {at}", in_words(&influence.draw));
            match by.iter_mut().find(|(own, _)| *own == what) {
                Some((_, settings)) => settings.push(setting),
                None => by.push((what, vec![setting])),
            }
        }
    }
    let said = by.into_iter().map(|(what, mut settings)| {
        let more = settings.len().saturating_sub(NAMED);
        settings.truncate(NAMED);
        settings.extend((more > 0).then(|| format!("{more} more")));
        format!("{} ({what})", listed(&settings))
    });
    let said: Vec<String> = said.collect();
    let words =
        Words::from(format!("{of} fits with everything nominal, but ")).strong("one setting alone can make it unfit");
    (!said.is_empty()).then(|| words.plain(format!(": {}.", said.join("; "))))
}

/// Settings that move something, in the order of how far they move the end, then the oil's service and the lining's peak.
pub(crate) fn moving(ranking: &Ranking) -> Vec<&Influence> {
    let swing = |i: &Influence| Measure::ALL.map(|measure| i.swing(measure, ranking.horizon));
    let most = ranking.influences.iter().map(swing).fold([0.0_f64; 3], |m, s| [0, 1, 2].map(|k| m[k].max(s[k])));
    let share = |i: &Influence| {
        let own = swing(i);
        [0, 1, 2].map(|k| if most[k] > LEAST[k] { own[k] / most[k] } else { 0.0 })
    };
    let moves = |i: &&Influence| swing(i).into_iter().zip(LEAST).any(|(own, least)| own > least);
    let mut all: Vec<&Influence> = ranking.influences.iter().filter(moves).collect();
    all.sort_by(|a, b| {
        let (a, b) = (share(a), share(b));
        b[0].total_cmp(&a[0]).then((b[1] + b[2]).total_cmp(&(a[1] + a[2])))
    });
    all
}

/// How the table is read.
pub fn note(ranking: &Ranking, rows: u64) -> String {
    let mut said = vec![
        "P10 and P90: the values that 10 and 90 % lie below; one setting at a time, all else nominal. * is spread by the script, the others are assumed. End: the hours that the motor runs until the first part is worn out, oil set apart; a bar shows how far they change.".to_owned(),
    ];
    if rows > 0 {
        said.push(format!(
            "Shares of the variance of the end, from {rows} rows: alone, the share removed if this setting alone were known; with interactions, the share left if all other settings were known; ± one standard error."
        ));
    }
    if rows > 0 && rows < FEW {
        said.push(format!("Fewer than {FEW} rows: the shares mean little."));
    }
    if ranking.beyond > 0 {
        said.push(format!(
            "{} of the design's runs outlived the simulated time and count as ending there: the shares are of lives cut off at that time.",
            ranking.beyond
        ));
    }
    let still = ranking.influences.len() - moving(ranking).len();
    if still > 0 {
        said.push(format!("Not listed, as they change none of these: {still} of the settings."));
    }
    said.join(" ")
}

/// On which setting a measure depends most, and from where to where it moves it.
pub(crate) fn most(measure: Measure, ranking: &Ranking) -> String {
    let what = match measure {
        Measure::End => "The life",
        Measure::Service => "The time to oil service",
        Measure::LiningPeak => "The lining's peak",
    };
    let swing = |influence: &&Influence| influence.swing(measure, ranking.horizon);
    let first = ranking.influences.iter().max_by(|a, b| swing(a).total_cmp(&swing(b)));
    let all = ranking.influences.iter().flat_map(|influence| [&influence.low, &influence.high]);
    if measure == Measure::Service && all.chain([&ranking.nominal]).all(|answer| answer.service_due.is_none()) {
        return "The time to oil service is not known: none is due in what was simulated".to_owned();
    }
    let Some(first) = first.filter(|first| swing(first) > 0.0) else {
        let known = measure.of(&ranking.nominal, ranking.horizon).is_some();
        let found = if known { "depends on no setting that was tried" } else { "is not known" };
        return format!("{what} {found}");
    };
    let range = ends(measure, first, ranking).map_or_else(String::new, |ends| format!(": {ends}"));
    format!("{what} depends most on {}{range}", in_words(&first.draw))
}
