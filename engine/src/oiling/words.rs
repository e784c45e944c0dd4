//! The plan of oiling, in sentences.

use super::answer::OilPlan;
use crate::parts::Machine;

fn hours(s: Option<f64>) -> String {
    s.map_or_else(|| "more than ten years of such outings".to_owned(), |s| format!("{:.0} h", s / 3600.0))
}

fn drops(n: f64) -> String {
    if n == 1.0 { "1 drop".to_owned() } else { format!("{n:.0} drops") }
}

fn percent(share: f64) -> String {
    format!("{:.0} %", 100.0 * share)
}

pub(super) fn sentences(p: &OilPlan) -> Vec<String> {
    let due = |name: &str| p.lasts.iter().find(|l| l.name == name).and_then(|l| l.due);
    let (set, least, most, grease) = (due("as set"), due("least leak"), due("most leak"), due("with grease"));
    let kept = |warm: bool, wait: f64| {
        let habit = p.habits.iter().find(|h| h.warm == warm);
        habit.and_then(|h| h.kept.iter().find(|k| k.0 == wait)).map_or(0.0, |k| k.1)
    };
    let mut say = vec![
        format!(
            "A full bushing ({:.0} drops) lasts {} of riding to a fill of {}, when service is due; with the least end leak that is possible {}, with the most {}: nobody has measured it, and it decides.",
            p.full_drops,
            hours(set),
            percent(p.due_at),
            hours(least),
            hours(most)
        ),
        p.interval.map_or_else(
            || format!("{:.0} drops bring back more than is lost before service is due: one such dose then is enough.", p.drops),
            |interval| {
                format!(
                    "{:.0} drops after the ride make good what {:.0} h of riding lose: oil at that interval, or every {:.0} outings. Where service is overdue the bushing takes {:.0} drops, a few at a time with a rest between.",
                    p.drops,
                    interval / 3600.0,
                    (interval / p.riding).max(1.0),
                    p.drops_when_due
                )
            },
        ),
        format!(
            "Before the ride, cold, {} of the dose is kept after a wait of 30 s, {} after 10 min, {} after 30 min; after the ride, warm, {} after 10 min and {} overnight.",
            percent(kept(false, 30.0)),
            percent(kept(false, 600.0)),
            percent(kept(false, 1800.0)),
            percent(kept(true, 600.0)),
            percent(kept(true, 43200.0))
        ),
        format!(
            "But the rest before the next spin is the larger part: put on cold and left overnight {} is kept. Warmth makes it minutes instead of an hour; oiling after the ride helps because a rest follows.",
            percent(kept(false, 43200.0))
        ),
    ];
    if let (Some(small), Some(large)) = (p.doses.first(), p.doses.last()) {
        say.push(format!(
            "Too much is thrown off: of {} put on 30 s before a ride {} is kept, of {} {}; the least grip of the lining is {} and {} of a dry one's. An oiled lining slips, heats and may not hold.",
            drops(small.drops),
            percent(small.kept),
            drops(large.drops),
            percent(large.kept),
            percent(small.grip),
            percent(large.grip)
        ));
    }
    if let [plain, additive, ..] = &p.oils[..] {
        say.push(format!(
            "With {:.0} drops of {} ridden at once the grip falls to {} and is back at {} after 20 min; with an oil that holds PTFE, silicone or a friction modifier it falls to {} and stays at {}: what they leave on the lining does not burn off. The model gives all three the same friction, 0.06, assumed.",
            p.drops,
            plain.oil,
            percent(plain.least),
            percent(plain.after),
            percent(additive.least),
            percent(additive.after)
        ));
    }
    if let (Some(set), Some(grease)) = (set, grease) {
        let reserve = p.lasts.iter().map(|l| l.grease).fold(0.0, f64::max);
        say.push(format!(
            "Grease in the grooves that holds {:.1} mL of oil carries a full bushing to {:.0} h instead of {:.0} h; it bleeds at rest too.",
            reserve * 1e6,
            grease / 3600.0,
            set / 3600.0
        ));
    }
    say
}

pub(super) fn assumed(m: &Machine) -> Vec<String> {
    vec![
        format!(
            "the end leak λ, {:.3} per hour at 80 °C and 2500 rpm (0.006 to 2 is possible), is assumed and decides how long an oiling lasts; weigh a drum before and after a season to measure it: one hundredth of the oil is about 11 mg",
            m.oiling.leak * 3600.0
        ),
        format!(
            "how fast the pores drink is assumed, {:.0} s at 80 °C (5 to 1500 s): it shifts every wait in minutes alike",
            m.oiling.imbibe_time
        ),
        format!(
            "the share of thrown oil that lands on the lining is assumed, {:.0} %, and so is the rate at which slip wipes it off",
            100.0 * m.oiling.lining_share
        ),
    ]
}
