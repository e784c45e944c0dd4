//! The choice of a spring.

use super::caller::{GEARS, LINING, MASS, OIL, WHEEL};
use super::options::{Form, LEARNED, USE, WANDER, named, quantity};
use super::question::{Case, Posed, Question};
use crate::read::refusal::Refusal;
use crate::read::units::show;
use rayon::prelude::*;
use slipsoak_engine::parts::Dimension as D;
use slipsoak_engine::spring_choice::{Wish, choice, judge, sought};
use slipsoak_engine::units::{KM_H, RPM};

pub(super) static CHOOSE: Question = Question {
    word: "choose",
    about: "Choose a spring: judge every spring of a stock on one machine",
    asks: "which spring",
    options: &[
        quantity("idle", (800.0 * RPM, 4000.0 * RPM), D::AngularSpeed, "1700 rpm")
            .help("true idle speed, measured on the warm motor [default: the machine's]"),
        WANDER,
        quantity("power", (100.0, 1e5), D::Power, "6.5 hp")
            .form(Form::Also("motor"), "POWER")
            .help("rated power, from which a torque curve is sketched instead of the machine's"),
        quantity("rated", (1500.0 * RPM, 19000.0 * RPM), D::AngularSpeed, "3600 rpm")
            .form(Form::Together("power"), "SPEED")
            .help("speed of the rated power [default: 3600 rpm, usual for small motors]"),
        quantity("grade", (0.0, 0.5), D::Ratio, "4 %")
            .form(Form::Quantity, "SLOPE")
            .help("steepest slope for a start uphill, such as \"4 %\" [default: the machine's, mostly level]"),
        MASS,
        WHEEL,
        GEARS,
        LEARNED,
        LINING,
        OIL,
        quantity("load", (0.0, 2000.0), D::Mass, "60 kg")
            .help("load in addition to the machine's own mass, such as \"60 kg\""),
        USE,
        quantity("crawl", (0.1, 30.0), D::Speed, "10 km/h").help("a slow speed that is held, such as \"10 km/h\""),
        quantity("season", (3600.0, 3.6e8), D::Time, "300 h")
            .help("time over which the springs relax [default: 300 h]"),
        named("springs", Form::Springs, "SPEEDS")
            .help("the springs to choose from by their engagement speeds, such as \"1900, 2200\""),
        named("stock", Form::Stock, "FILE")
            .help("the springs to choose from, a JSON file [default: our own, invented, 1600 to 3000 rpm]"),
    ],
    judges_others: true,
    of,
};

fn of(Case { machine, usage, given, sketched }: Case) -> Result<Posed, Refusal> {
    let fastest = machine.motor.no_load * machine.speed_per_drum();
    if let Some(crawl) = given.quantity("crawl").filter(|crawl| *crawl > fastest) {
        let [crawl, fastest] = [crawl, (fastest / KM_H).floor() * KM_H].map(|speed| show(speed, D::Speed));
        return Err(Refusal::new(format!(
            "crawl: {crawl} cannot be held, the governed motor drives this machine at no more than {fastest}; give a lower speed"
        )));
    }
    let mut wish = Wish::new(machine, usage);
    given.set("wander", &mut wish.wander);
    given.set("grade", &mut wish.grade);
    given.set("load", &mut wish.load);
    given.set("season", &mut wish.season);
    wish.known = given.known();
    wish.crawl = given.quantity("crawl");
    let springs = given.springs;
    Ok(Posed {
        what: "springs judged",
        trials: springs.len() as u64,
        answer: Box::new(move |done| {
            let judged = springs.par_iter().map(|spring| judge(&wish, spring).inspect(|_| done()));
            let mut choice = choice(&wish, judged.collect::<Result<_, _>>()?, sketched);
            choice.sought = sought(&wish, &choice)?;
            Ok(choice.into())
        }),
    })
}
