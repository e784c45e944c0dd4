//! Fleets that are not to be used: wrong oils, clutches beyond the model, that drag at idle, or whose bushings grab.

use crate::words::clutches::{followed, name, names, whole};
use crate::words::say;
use crate::words::text::{Words, listed};
use crate::words::use_of_machine;
use slipsoak_engine::fault::Fault;
use slipsoak_engine::fleet::{CONFIDENCE, DRAGGING, Fleet, Report};
use slipsoak_engine::laws::margin::SEASON;
use slipsoak_engine::statistics::share_of;

/// Sentence on the fleets with an oil that stays on the lining; none if there are none.
pub(super) fn wrong_oil(report: &Report) -> Option<Words> {
    let wrong: Vec<&Fleet> = report.fleets.iter().filter(|fleet| fleet.wrong_oil()).collect();
    let (n, all) = (wrong.len(), report.fleets.len());
    let whose = match n {
        0 => return None,
        _ if all == 1 => "this oil".to_owned(),
        _ if n == all => "the oil of any of these".to_owned(),
        _ => format!("the oil of {}", names(report, &wrong)),
    };
    let words = use_of_machine::wrong_oil(&whose, "");
    let them = if n == 1 { "it is" } else { "they are" };
    Some(if n < all { words.plain(format!(" In what follows {them} left out.")) } else { words })
}

/// Sentence on a fleet in which clutches grow hotter than the model reaches; none if none does.
pub(super) fn beyond(report: &Report, fleet: &Fleet) -> Option<Words> {
    let (count, hottest) = fleet.beyond?;
    let whose = if report.fleets.len() > 1 { format!(" of “{}”", name(report, fleet)) } else { String::new() };
    let words = format!(
        "In {count} of {} clutches{whose} a part is beyond the model, at up to ",
        fleet.outcomes.len() as u64 + count
    );
    let words = Words::from(words).temperature(hottest);
    Some(words.plain(": no life is given for them, and the machine is not recommended for this duty."))
}

/// Sentence on the fleets too many of whose clutches drag at idle; none if there are none.
pub(super) fn dragging(report: &Report, all: &[&Fleet]) -> Option<Words> {
    let unfit: Vec<&Fleet> = all.iter().copied().filter(|fleet| fleet.drags()).collect();
    let drag = if unfit.iter().all(|fleet| fleet.dragging() == 1) { "drags" } else { "drag" };
    let counted = |fleet: &Fleet| format!("{} of {}", fleet.dragging(), fleet.outcomes.len());
    refused(report, &unfit, counted, |counts| {
        format!("{counts} clutches {drag} at idle, new or relaxed: the machine may creep")
    })
}

/// Sentence on the fleets in which it is unknown whether springs drag at idle, since they grow hotter than their relaxation is known to:
/// where machines are compared those that are not recommended for it, else each; none if there are none.
pub(super) fn unknown(report: &Report, all: &[&Fleet]) -> Option<Words> {
    let choice = report.of_several();
    let fleets = all.iter().copied().filter(|fleet| if choice { fleet.unclear() } else { !fleet.drags() });
    let hot: Vec<(&Fleet, (usize, f64, f64))> =
        fleets.filter_map(|fleet| Some((fleet, fleet.springs_unknown()?))).collect();
    let peak = hot.iter().map(|one| one.1.1).fold(0.0, f64::max);
    let limit = hot.iter().map(|one| one.1.2).fold(f64::INFINITY, f64::min);
    let why = |counts: &str| {
        format!(
            "in {counts} clutches springs heat to up to {}, beyond {}, to which their relaxation is known: whether they drag at idle later is unknown",
            say::temperature(peak),
            say::temperature(limit)
        )
    };
    let counted =
        |fleet: &Fleet| format!("{} of {}", fleet.springs_unknown().map_or(0, |one| one.0), fleet.outcomes.len());
    let hot: Vec<&Fleet> = hot.into_iter().map(|one| one.0).collect();
    if choice {
        return refused(report, &hot, counted, why);
    }
    let counts: Vec<String> = hot.iter().map(|fleet| counted(fleet)).collect();
    let with = if report.fleets.len() > 1 { format!("with {}, ", names(report, &hot)) } else { String::new() };
    let look = "Look for less slip, or a spring made for such heat";
    (!hot.is_empty()).then(|| Words::from(format!("{with}{}. {look}.", why(&listed(&counts)))).capital())
}

/// Sentence on the fleets too many of whose bushings grab though their oil is not due; none if there are none.
pub(super) fn grabbing(report: &Report, all: &[&Fleet]) -> Option<Words> {
    let unfit: Vec<&Fleet> = all.iter().copied().filter(|fleet| fleet.grabs()).collect();
    let of = |fleet: &Fleet, count: usize| format!("{count} of {}", fleet.outcomes.len());
    let later = if unfit.iter().any(|fleet| fleet.seized() > fleet.grabbing()) {
        let all: Vec<String> = unfit.iter().map(|fleet| of(fleet, fleet.seized())).collect();
        format!(" (in {} it grabs sooner or later)", listed(&all))
    } else {
        String::new()
    };
    // A fleet that was followed for less than a season says nothing of the rest of it.
    let within = unfit.iter().map(|fleet| followed(fleet)).fold(0.0, f64::max).min(SEASON);
    refused(
        report,
        &unfit,
        |fleet| of(fleet, fleet.grabbing()),
        |counts| {
            format!(
                "in {counts} clutches the bushing grabs its shaft within {} of running, before its oil is due{later}: oil it far more often (`slipsoak oiling` says how often), or let it slip less",
                say::time(within)
            )
        },
    )
}

/// What the fault of a fleet does, of its machines and duty.
pub(crate) const fn of_duty(fault: Fault) -> &'static str {
    match fault {
        Fault::BushingDrives => "the friction of the cold bushing moves the machine off at idle",
        Fault::RunsAway => "a slope carries the machine off",
        Fault::Overspeed => "a descent drives the motor beyond its governed speed",
        _ => "the machine does not reach the required speed, or does not move, in half of its starts or more",
    }
}

/// Sentences on the fleets that are not to be used whatever their springs and oil, one for each fault.
pub(super) fn unfit(report: &Report, all: &[&Fleet]) -> Vec<Words> {
    let of = |fault: Fault| {
        let with: Vec<&Fleet> = all.iter().copied().filter(|f| f.unfit().is_some_and(|own| own.0 == fault)).collect();
        let counted = |fleet: &Fleet| format!("{} of {}", fleet.unfit().map_or(0, |n| n.1), fleet.outcomes.len());
        refused(report, &with, counted, |counts| format!("in {counts} clutches {}", of_duty(fault)))
    };
    Fault::OF_DUTY.into_iter().filter_map(of).collect()
}

/// Sentence that refuses fleets for what happens to this many of their clutches.
fn refused(
    report: &Report,
    unfit: &[&Fleet],
    counted: impl Fn(&Fleet) -> String,
    why: impl Fn(&str) -> String,
) -> Option<Words> {
    let each: Vec<String> = unfit.iter().map(|fleet| counted(fleet)).collect();
    // A habit is used, a machine is fitted.
    let habits = report.fleets.windows(2).all(|pair| pair[0].variant == pair[1].variant);
    let fit = if habits { "use" } else { "fit" };
    let why = why(&listed(&each));
    let words = Words::default();
    match unfit.len() {
        0 => None,
        _ if report.fleets.len() == 1 => Some(words.strong("Do not use it so: ").plain(format!("{why}."))),
        n if n == report.fleets.len() => {
            let of = format!("with {}, {why}. What follows only compares them.", names(report, unfit));
            Some(words.strong("None can be recommended: ").plain(of))
        }
        _ => Some(words.strong(format!("Do not {fit} {}: ", names(report, unfit))).plain(format!("{why}."))),
    }
}

/// Sentence on how sure it is that the best fleet stays clear of the idle; none where no springs are compared
/// and no fleet drags, since then they are not in question, or where the best one drags too.
pub(super) fn clear(report: &Report, all: &[&Fleet]) -> Option<Words> {
    let springs = report.fleets.windows(2).any(|pair| pair[0].engagement != pair[1].engagement);
    let drag = springs || all.iter().any(|fleet| fleet.dragging() > 0);
    let best = all.first().filter(|best| drag && !best.drags() && !best.unclear())?;
    let (count, of) = (best.dragging() as u64, best.outcomes.len() as u64);
    let may = best.may_drag() as u64;
    let most = share_of(may, of, CONFIDENCE).high;
    let seen = if count == 0 { "None".to_owned() } else { count.to_string() };
    let words = Words::from(format!("{seen} of {of} clutches with ")).strong(format!("“{}”", name(report, best)));
    let drag = if count < 2 { "drags" } else { "drag" };
    let drag = match may - count {
        0 => drag.to_owned(),
        more => format!("{drag}, as far as known: of {more} the springs grow hotter than their relaxation is known to"),
    };
    Some(if most > DRAGGING {
        words.plain(format!(" {drag}, but up to ")).strong(whole(most)).plain(format!(
            " may: {of} are too few to show that 19 of 20 stay clear of the idle. Ask `choose` before you fit it."
        ))
    } else {
        words.plain(format!(" {drag}; up to {} may.", whole(most)))
    })
}
