//! Interval and dose of oiling.

use super::caller::{GEARS, MASS, OIL, WHEEL};
use super::options::{Form, LEARNED, USE, WANDER, quantity};
use super::question::{Case, Posed, Question};
use crate::read::refusal::Refusal;
use crate::read::units::show;
use slipsoak_engine::oil_plan::{TRIALS, Wish, plan};
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::units::DAY;

pub(super) static OILING: Question = Question {
    word: "oiling",
    about: "Plan the oiling: interval, drops, habits, effects of too much and of the wrong oil",
    asks: "when and how to oil",
    options: &[
        USE,
        WANDER,
        LEARNED,
        quantity("riding", (300.0, DAY), D::Time, "40 min").help("riding of one outing [default: 40 min]"),
        quantity("rest", (0.0, 366.0 * DAY), D::Time, "12 h")
            .help("rest after it [default: until a day after it began]"),
        quantity("weekly", (600.0, 7.0 * DAY), D::Time, "10 h")
            .help("riding in a week, so that the interval is given by the calendar too"),
        quantity("drops", (0.5, 100.0), D::Ratio, "4")
            .form(Form::Drops, "N")
            .help("drops of one service, or their volume, such as \"0.2 mL\": the setting oiling.drop is the volume of one, usually 0.04 mL"),
        quantity("found", (0.3, 1.0), D::Ratio, "85 %")
            .help("oil fill of the bushing at which habits are compared, such as \"85 %\""),
        quantity("grease", (1e-9, 1e-5), D::Volume, "0.5 mL")
            .help("grease in the grooves to compare with none, by its oil volume [default: 0.5 mL]"),
        MASS,
        WHEEL,
        GEARS,
        OIL,
    ],
    judges_others: false,
    of,
};

fn of(Case { machine, usage, given, .. }: Case) -> Result<Posed, Refusal> {
    let mut wish = Wish::new(machine, usage);
    if let Some(riding) = given.quantity("riding") {
        (wish.riding, wish.rest) = (riding, (DAY - riding).max(0.0));
    }
    given.set("rest", &mut wish.rest);
    wish.known = given.known();
    given.set("wander", &mut wish.wander);
    wish.weekly = given.quantity("weekly");
    given.set("drops", &mut wish.drops);
    given.set("found", &mut wish.found);
    given.set("grease", &mut wish.grease);
    weekly_rests(&wish, given.quantity("rest"))?;
    let answer = move |done: &(dyn Fn() + Sync)| Ok(plan(&wish, done)?.into());
    Ok(Posed { what: "ways to oil tried", trials: TRIALS as u64, answer: Box::new(answer) })
}

/// Refuses more outings a week than have room in it with the rest that is given after each.
fn weekly_rests(wish: &Wish, rest: Option<f64>) -> Result<(), Refusal> {
    let Some((rest, weekly)) = rest.zip(wish.weekly) else { return Ok(()) };
    let (outings, most) = (weekly / wish.riding, 7.0 * DAY / (wish.riding + rest));
    if outings <= most + 1e-6 {
        return Ok(());
    }
    let [each, whole, rest] = [wish.riding, weekly, rest].map(|time| show(time, D::Time));
    Err(Refusal::new(format!(
        "weekly: {whole} of riding in a week are {outings:.0} outings of {each}, but with a rest of {rest} after each a week has room for {most:.1}; give a shorter rest, fewer hours a week, or longer outings"
    )))
}
