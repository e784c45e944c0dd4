//! How long oil lasts, and what is kept of a dose.

use super::amounts::{after, drops, how_sure, whole};
use crate::words::number::figures;
use crate::words::say::{percent, time, times};
use slipsoak_engine::names::LeakCase;
use slipsoak_engine::oil_plan::{Lasts, OilPlan};

/// Sentences on a bushing that a habit keeps oiled.
pub(super) fn kept_oiled(p: &OilPlan) -> Vec<String> {
    let mut say = vec![];
    let of = |name| p.case(name);
    let full = format!("A full bushing holds {}. Service is due at {}", drops(p.full_drops), percent(p.due_at));
    let sure = how_sure(p.leak_learned());
    let soonest = of(LeakCase::Most).and_then(|most| most.due);
    let latest = of(LeakCase::Least).map(after).unwrap_or_default();
    say.push(
        match (of(LeakCase::AsSet), soonest) {
            (Some(Lasts { due: Some(set), .. }), Some(soonest)) => {
                let range = match of(LeakCase::Least).and_then(|least| least.due) {
                    Some(latest) => times(soonest, latest),
                    None => format!("{} to {latest}", time(soonest)),
                };
                format!("{full}, after {} of riding; the end leakage and the life of the oil in heat, {sure}, could make that anything from {range}.", time(*set))
            }
            (_, Some(soonest)) => format!("{full}, not within ten years of such outings; but with the greatest end leakage and the shortest life of the oil in heat that are possible, {sure}, after {} of riding.", time(soonest)),
            (_, None) => format!("{full}, not within ten years of such outings, whatever the end leakage and the life of the oil in heat."),
        },
    );
    if of(LeakCase::AsSet).is_some_and(|set| set.due.is_some()) {
        say.push(format!(
            "Where service is overdue the bushing takes {}, a few at a time with a rest between.",
            drops(whole(p.drops_when_due))
        ));
    }
    say.extend(kept(p));
    let greased = of(LeakCase::AsSet).and_then(|set| set.due).zip(of(LeakCase::Greased));
    say.extend(greased.map(|(set, greased)| {
        let with = greased.due.map_or_else(|| "more than ten years".to_owned(), time);
        if with == time(set) {
            return format!(
                "Grease in the grooves that holds {} mL of oil hardly lengthens that; it bleeds at rest too.",
                figures(greased.grease * 1e6, 2)
            );
        }
        format!(
            "Grease in the grooves that holds {} mL of oil carries a full bushing to {} of riding instead of {}; it bleeds at rest too.",
            figures(greased.grease * 1e6, 2),
            with,
            time(set)
        )
    }));
    say
}

/// Sentences on the share of a dose that is absorbed, and why.
fn kept(p: &OilPlan) -> Vec<String> {
    let kept = |warm: bool, wait: f64| {
        let habit = p.habits.iter().find(|h| h.warm == warm);
        habit.and_then(|h| h.kept.iter().find(|k| k.0 == wait)).map_or(0.0, |k| k.1)
    };
    let [cold, warm] = [false, true].map(|warm| kept(warm, 43200.0));
    let mut say = vec![
        format!(
            "Put on cold, {} of the dose is kept after a wait of 30 s, {} after 10 min, {} after 30 min; put on warm after the ride, {} after 10 min and {} overnight.",
            percent(kept(false, 30.0)),
            percent(kept(false, 600.0)),
            percent(kept(false, 1800.0)),
            percent(kept(true, 600.0)),
            percent(warm)
        ),
        format!(
            "What counts is the rest before the drum turns again: cold oil left overnight is kept to {}. Warmth only shortens the wait, from an hour or more to ten minutes. Oiling after the ride helps because a rest follows.",
            percent(cold)
        ),
    ];
    if p.warm_room < p.drops {
        let so = if p.dose < p.drops {
            format!("So the rule for the wall is for {}.", drops(p.dose))
        } else {
            "The interval allows for that: put it on warm, a drop at a time, and wipe off what runs out.".to_owned()
        };
        say.push(format!(
            "Hot oil fills more of the pores: a bushing at {} that is warm from the ride has room for {}, not for {}. The rest stands on its faces, and some runs off before cooling draws it in: {} of a warm dose is kept overnight, {} of a cold one. {so}",
            percent(p.found),
            drops(p.warm_room),
            drops(p.drops),
            percent(warm),
            percent(cold)
        ));
    }
    say
}
