//! What to do first with a machine, from its sheet.

use crate::words::number::figures;
use crate::words::reading::new_part;
use crate::words::say::{temperature, turns};
use crate::words::slope::slope;
use crate::words::text::Words;
use crate::words::use_of_machine::{bushing_drives, weaker, wrong_oil};
use crate::words::verdict::STRONGER;
use crate::words::warnings::WEAK;
use slipsoak_engine::sheet::Sheet;

/// What to do first, a sentence for each: about its oil, about parts to replace, about its springs, and about its start on a slope;
/// nothing where nothing is against them.
pub fn advice(s: &Sheet) -> Vec<Words> {
    let oil = s.wrong_oil.then(|| wrong_oil("this oil", ""));
    let parts = s.spent.iter().map(|spent| Words::default().strong("Fit ").strong(new_part(spent)).plain("."));
    oil.into_iter().chain(parts).chain(springs(s)).chain(start(s)).chain(s.driven_at.map(bushing_drives)).collect()
}

/// That a start burns the clutch or overheats its lining, from cold, or warm from stop-and-go.
fn start(s: &Sheet) -> Option<Words> {
    let of = &s.launch;
    let limit = of.limit.filter(|_| of.succeeds())?;
    let against = |from: &str, burns: Option<f64>, lining: f64| {
        let burns = burns.map(|power| {
            format!("{from} the clutch burns: it slips with {} kW for 10 s or longer", figures(1e-3 * power, 2))
        });
        let hot = (lining > limit).then(|| {
            format!("{from} its lining reaches {}, over its limit of {}", temperature(lining), temperature(limit))
        });
        burns.into_iter().chain(hot)
    };
    let mut all: Vec<String> = against("from cold", of.burns, of.lining).collect();
    if let Some(warm) = s.warm.filter(|_| all.is_empty()) {
        all.extend(against("warm from stop-and-go", warm.burns, warm.lining));
        let late = "warm from stop-and-go it does not lock up within a minute".to_owned();
        all.extend(warm.locks.is_none().then_some(late));
    }
    (!all.is_empty()).then(|| {
        let words = Words::default().strong(format!("Do not start it on {}", slope(of.grade)));
        words.plain(format!(": {}. {STRONGER}", all.join("; ")))
    })
}

/// What to do about the springs: a weak or broken one is replaced with the whole set; one that touches at the idle, or too near to it, is
/// none to ride with.
fn springs(s: &Sheet) -> Option<Words> {
    const WHICH: &str = "`slipsoak choose` says which spring fits";
    let (new, needed) = s.renewed;
    let margin = s.engagement - s.idle;
    // Somewhat less force is within what a sound set has, as long as the clutch stays clear of the idle.
    if let Some(weak) = s.weak.as_ref().filter(|weak| weak.weakest < WEAK || margin < s.needed) {
        let why = weaker(weak);
        let drags = if margin > 0.0 { "" } else { ", and the clutch drags at idle" };
        if new - s.idle >= needed {
            let replace = Words::default().strong("Replace all springs first, by a new set of the same");
            return Some(replace.plain(format!(": {why}{drags}.")));
        }
        let set = near(new - s.idle, needed);
        return Some(
            Words::default()
                .strong("Choose another spring first, and fit it as a whole set")
                .plain(format!(": {why}{drags}; a new set of the same {set}. {WHICH}.")),
        );
    }
    if margin <= 0.0 {
        let words = Words::default().strong("Do not ride it so: its clutch drags at idle");
        return Some(words.plain(format!(", and the machine may creep. {WHICH}.")));
    }
    (margin < s.needed).then(|| {
        let words = Words::default().strong("Choose another spring before you ride it");
        words.plain(format!(": this one {}. {WHICH}.", near(margin, s.needed)))
    })
}

/// How near to the idle a spring engages, and how far above it is needed.
fn near(margin: f64, needed: f64) -> String {
    let engages = if margin > 0.0 {
        format!("engages only {} above the idle", turns(margin))
    } else {
        format!("engages {} below the idle", turns(-margin))
    };
    format!("{engages}, where its variation and the tolerances of springs and tachometer take about {}", turns(needed))
}
