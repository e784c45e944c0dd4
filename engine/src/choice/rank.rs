//! All springs of a stock put in order, beside what the trade would fit.

use super::answer::{Choice, Judged, Sketched, Trade};
use super::judge::Wish;
use super::words::rpm;
use crate::record::Setting;

const RPM: f64 = std::f64::consts::PI / 30.0;
/// What the trade puts between the true idle and the engagement: common practice, no source.
const RULE: f64 = 200.0 * RPM;
/// Idles (from, to) and the engagement near which shops fit them: common practice, no source. rpm.
const USUAL: [(f64, f64, f64); 2] = [(1600.0, 1800.0, 2000.0), (2000.0, 2100.0, 2300.0)];

/// Puts judged springs in order and says what it comes to.
pub fn choice(wish: &Wish, mut springs: Vec<Judged>, sketched: Option<Sketched>) -> Choice {
    let idle = wish.machine.motor.idle;
    let life = |s: &Judged| s.found.as_ref().and_then(|f| f.life).unwrap_or(f64::INFINITY);
    springs.sort_by(|a, b| {
        b.fits.cmp(&a.fits).then_with(|| {
            let by_life = if a.fits { life(b).total_cmp(&life(a)) } else { std::cmp::Ordering::Equal };
            by_life.then_with(|| a.engagement.total_cmp(&b.engagement))
        })
    });
    let usual = USUAL.iter().find(|u| (u.0 * RPM - 1e-6..=u.1 * RPM + 1e-6).contains(&idle)).map(|u| u.2 * RPM);
    let wanted = usual.unwrap_or(idle + RULE);
    let near = |s: &&Judged| (s.engagement - wanted).abs();
    let trade = Trade {
        rule: idle + RULE,
        usual,
        spring: springs.iter().min_by(|a, b| near(a).total_cmp(&near(b))).map_or_else(String::new, |s| s.name.clone()),
    };
    let best = springs.first().filter(|s| s.fits);
    // Without its wander only a spring that settles below the idle itself drags; what else speaks against one still does.
    let steady = |s: &&Judged| s.found.as_ref().is_some_and(|f| f.settled >= idle && s.reasons_but_drag() == 0);
    let best_steady = springs.iter().filter(steady).max_by(|a, b| life(a).total_cmp(&life(b)));
    let statement = statement(wish, &trade, &springs, best, best_steady);
    let (best, best_steady) = (best.map(|s| s.name.clone()), best_steady.map(|s| s.name.clone()));
    Choice {
        machine: wish.machine.name.clone(),
        usage: wish.usage.name.clone(),
        idle,
        wander: wish.wander,
        grade: wish.grade,
        load: wish.load,
        crawl: wish.crawl,
        season: wish.season,
        simulated: wish.simulated,
        lining_most: wish.machine.limits.lining_most,
        sketched,
        trade,
        best,
        best_steady,
        springs,
        statement,
        assumed: assumed(wish, sketched),
        settings: Setting::all(&wish.machine),
        origin: wish.origin.clone(),
    }
}

impl Judged {
    /// How many reasons speak against it besides dragging.
    fn reasons_but_drag(&self) -> usize {
        let drags = self.found.as_ref().is_some_and(|f| f.drag.is_some());
        self.against - usize::from(drags)
    }

    fn hours(&self) -> Option<f64> {
        Some(self.found.as_ref()?.life? / 3600.0)
    }
}

fn statement(
    wish: &Wish,
    trade: &Trade,
    springs: &[Judged],
    best: Option<&Judged>,
    steady: Option<&Judged>,
) -> Vec<String> {
    let idle = wish.machine.motor.idle;
    let mut say = vec![format!(
        "The trade fits about 200 rpm over the true idle, here {}{} (common practice, no source): the {} spring of this stock.",
        rpm(trade.rule),
        trade.usual.map_or_else(String::new, |u| format!(
            ", and shops usually fit an idle of {} with a spring near {}",
            rpm(idle),
            rpm(u)
        )),
        trade.spring
    )];
    let traded = springs.iter().find(|s| s.name == trade.spring);
    match (best, traded) {
        (None, _) => say.push(
            "Computed: no spring of this stock fits; read the reasons below, and change the stock, the idle, the gearing or the use."
                .to_owned(),
        ),
        (Some(best), Some(traded)) if best.name == traded.name => say.push(format!(
            "Computed: of those that never drag over an idle that wanders by ± {} and that pass every other limit it is also the {} spring that lasts longest{}.",
            rpm(wish.wander),
            best.name,
            best.hours().map_or_else(String::new, |h| format!(", about {h:.0} h"))
        )),
        (Some(best), traded) => {
            let lives = best.hours().zip(traded.filter(|t| t.fits).and_then(Judged::hours));
            let compared = lives.map_or_else(
                || traded.filter(|t| !t.fits).map_or_else(String::new, |t| format!("; the {} does not fit: {}", t.name, t.reasons[0])),
                |(b, t)| {
                    let margin = |s: &Judged| s.found.as_ref().map_or(0.0, |f| f.margin);
                    format!(
                        ", about {b:.0} h against {t:.0} h with the {}, which keeps {} of margin over the highest idle against {}",
                        trade.spring,
                        traded.map_or_else(String::new, |t| rpm(margin(t))),
                        rpm(margin(best))
                    )
                },
            );
            say.push(format!(
                "Computed: of those that never drag over an idle that wanders by ± {} and that pass every other limit the {} spring lasts longest{compared}.",
                rpm(wish.wander),
                best.name
            ));
        }
    }
    if let Some(steady) = steady.filter(|s| best.is_some_and(|b| b.name != s.name)) {
        say.push(format!(
            "If the idle stood still, the {} spring would last longest{}: the model slips least just above the idle, and what the trade gives away is its margin for an idle that wanders.",
            steady.name,
            steady.hours().map_or_else(String::new, |h| format!(" (about {h:.0} h)"))
        ));
    }
    say
}

fn assumed(wish: &Wish, sketched: Option<Sketched>) -> Vec<String> {
    let mut list = vec![
        "lives lean on assumed wear constants: compare them, do not count on them".to_owned(),
        format!(
            "the relaxation of the springs is assumed, {:.1} % per decade of time at 120 °C",
            100.0 * wish.machine.clutch.relaxation
        ),
        format!(
            "the wander of the idle is taken as ± {}: measure it on the warm motor, with a tachometer, over some minutes",
            rpm(wish.wander)
        ),
    ];
    if let Some(s) = sketched {
        list.push(format!(
            "the torque curve is sketched from {:.1} kW at {}: its shape is another motor's, so that torques may lie 15 % off (assumed)",
            s.power / 1e3,
            rpm(s.speed)
        ));
    }
    list
}
