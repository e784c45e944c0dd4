//! What to measure for a decision.

use super::caller::{GEARS, LINING, MASS, OIL, WHEEL};
use super::options::{Form, LEARNED, USE, WANDER, named, quantity};
use super::question::{Case, Posed, Question};
use crate::read::refusal::Refusal;
use crate::read::units::show;
use slipsoak_engine::measure_plan::{Wish, plan, trials};
use slipsoak_engine::names::Decision;
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::DAY;

/// The decisions, as they are said.
const DECISIONS: [&str; Decision::COUNT] =
    [Decision::Oiling.name(), Decision::Life.name(), Decision::Spring.name(), Decision::Season.name()];
/// Largest number of springs: those next above the idle are of interest.
const SPRINGS: usize = 4;

pub(super) static MEASURE: Question = Question {
    word: "measure",
    about: "Find what is worth measuring: how far each measurement narrows a decision, and how often it changes it",
    asks: "what is worth measuring",
    options: &[
        quantity("for", (0.0, 0.0), D::Ratio, "oiling")
            .form(Form::OneOf(&DECISIONS), "DECISION")
            .help("the decision: how often to oil, how long the parts last, which spring to fit, or how many parts to have for a season"),
        USE,
        WANDER,
        quantity("riding", (300.0, DAY), D::Time, "40 min").help("riding of one outing [default: 40 min]"),
        quantity("rest", (0.0, 366.0 * DAY), D::Time, "12 h")
            .help("rest after it [default: until a day after it began]"),
        quantity("carts", (1.0, 1000.0), D::Ratio, "12")
            .form(Form::Count(1000), "N")
            .help("carts of the shop, for a season"),
        quantity("season", (3600.0, 2e7), D::Time, "500 h")
            .help("running of each of them in the season [default: 500 h]"),
        named("springs", Form::Springs, "SPEEDS")
            .help("the springs to choose from by their engagement speeds, such as \"1900, 2200\""),
        named("stock", Form::Stock, "FILE").help(
            "the springs to choose from, a JSON file [default: our own, invented]; the four next above the idle count",
        ),
        LEARNED,
        quantity("samples", (32.0, 2000.0), D::Ratio, "96")
            .form(Form::Count(2000), "N")
            .help("number of clutches to sample"),
        quantity("seed", (0.0, 9e15), D::Ratio, "1").form(Form::Count(u64::MAX), "N").help("seed of the samples"),
        MASS,
        WHEEL,
        GEARS,
        LINING,
        OIL,
    ],
    judges_others: false,
    of,
};

fn of(Case { machine, usage, given, .. }: Case) -> Result<Posed, Refusal> {
    let decision = given.words.get("for").and_then(|name| Decision::named(name)).unwrap_or(Decision::Oiling);
    let mut wish = Wish::new(machine, usage, decision);
    let own = |path: &str| given.spreads.iter().any(|u| u.path == path);
    wish.uncertain.retain(|u| !own(&u.path));
    wish.uncertain.extend(given.spreads.iter().cloned());
    wish.known = given.known();
    if let Some(wander) = given.quantity("wander") {
        wish.vary(wander);
    }
    if let Some(riding) = given.quantity("riding") {
        (wish.riding, wish.rest) = (riding, (DAY - riding).max(0.0));
    }
    given.set("rest", &mut wish.rest);
    given.set("season", &mut wish.season);
    wish.carts = given.counts.get("carts").map_or(wish.carts, |carts| *carts as f64);
    given.set_count("samples", &mut wish.samples);
    given.set_count("seed", &mut wish.seed);
    wish.springs = given.springs;
    let idle = wish.machine.motor.idle;
    wish.springs.retain(|spring| spring.engagement > idle);
    wish.springs.sort_by(|a, b| a.engagement.total_cmp(&b.engagement));
    wish.springs.truncate(SPRINGS);
    if decision == Decision::Spring && wish.springs.is_empty() {
        let idle = show(idle, D::AngularSpeed);
        return Err(Refusal::new(format!(
            "no spring to choose from engages above the idle of {idle}; give stiffer ones by --springs or --stock"
        )));
    }
    let trials = trials(&wish);
    let answer = move |done: &(dyn Fn() + Sync)| Ok(plan(&wish, done)?.into());
    Ok(Posed { what: "clutches simulated", trials, answer: Box::new(answer) })
}
