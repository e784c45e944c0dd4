//! What the stack-up and its wear come to, in sentences.

use super::answer::{Gaps, When};
use crate::parts::Machine;

fn both(m: f64) -> String {
    format!("{:.2} mm ({:.1} thou)", 1e3 * m, m / 2.54e-5)
}

fn hours(w: &When) -> String {
    let shown = |t: f64| format!("{:.0}", t / 3600.0);
    let range = w.early.zip(w.late).map_or_else(String::new, |(a, b)| format!(" ({} to {})", shown(a), shown(b)));
    w.time.map_or_else(|| "never".to_owned(), |t| format!("after {} h{range}", shown(t)))
}

pub(super) fn sentences(g: &Gaps) -> Vec<String> {
    let s = &g.stack;
    let least = s.nominal - s.worst;
    let mut say = vec![format!(
        "New, the gap between drum and cover is {}; with every part at its worst {}, by the root of the sum of squares {}.",
        both(s.nominal),
        both(least),
        both(s.nominal - s.rss)
    )];
    let asked = both(g.limit);
    say.push(if least >= g.limit {
        format!("It fits: even the worst stack leaves the {asked} that are asked for.")
    } else if s.below_zero > 0.0 {
        format!(
            "It does not always fit: {:.2} % of assemblies are below the {asked} that are asked for, and in {:.2} % the drum touches the cover when new.",
            100.0 * s.below_limit,
            100.0 * s.below_zero
        )
    } else {
        format!("It is tight: {:.2} % of assemblies are below the {asked} that are asked for.", 100.0 * s.below_limit)
    });
    for c in &g.courses {
        say.push(format!(
            "Worn, {}: the washer is due {}; bronze runs on steel {}; the gap is below what is asked {}; the drum touches the cover {}.",
            c.name,
            hours(&c.washer_due),
            hours(&c.bronze_on_steel),
            hours(&c.tight),
            hours(&c.touches)
        ));
        if c.chars {
            say.push(format!(
                "But {} the washer comes to {:.0} °C and chars: it does not live that long.",
                c.name,
                c.washer - 273.15
            ));
        }
    }
    say.push(format!(
        "Hours of riding, use: {}; in brackets what 5 and 95 % of {} drawn assemblies come to, seed {}.",
        g.usage, g.assemblies, g.seed
    ));
    say
}

pub(super) fn assumed(machine: &Machine) -> Vec<String> {
    vec![
        "no value has been published for the wear of vulcanised fibre on steel: the washer's constants are assumed, a factor of 10 either way, and that is nearly all of the range of hours".to_owned(),
        format!(
            "the sideways push of the chain is assumed, {:.1}° of misalignment: a crooked chain wears the washer faster",
            machine.washer.misalignment.to_degrees()
        ),
        "a size is taken as equally likely over its whole tolerance; sorted or reworked parts are not".to_owned(),
        "bronze on steel is taken as dry and wears at the dry bushing's constant, assumed, a factor of 3 either way; a torn face wears faster".to_owned(),
    ]
}
