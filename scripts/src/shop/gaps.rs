//! The gap under the cover, and the time until it closes.

use super::options::{Form, LEARNED, TOLERANCE, USE, WANDER, named, quantity};
use super::question::{Case, Posed, Question};
use slipsoak_engine::parts::{Dimension as D, settings};
use slipsoak_engine::stack_up::{Wish, gaps};

/// A size of the stack in help.
const TOLERANCED: &str = "SIZE ± TOLERANCE";

pub(super) static GAPS: Question = Question {
    word: "gaps",
    about: "Stack up the gap between drum and cover, with the hours until the washer is due and until they touch",
    asks: "does the cover clear the drum, and for how long",
    options: &[
        named("proud", Form::Settings(&settings::cover::proud, &settings::cover::proud_tolerance), TOLERANCED).help(
            "height of the bushing proud of the sprocket, such as \"65 thou ± 5 thou\" or \"0.065 in +- 0.005 in\"",
        ),
        named("washer", Form::Settings(&settings::washer::thickness, &settings::cover::washer_tolerance), TOLERANCED)
            .help("thickness of the washer, such as \"30 thou ± 3 thou\""),
        quantity("cover", (-0.02, 0.02), D::Length, "-10 thou").form(Form::Size("cover_tolerance"), TOLERANCED).help(
            "distance of the cover's face behind the plane of the bushing's seat; negative if it is closer to the drum \
             [default: flush]",
        ),
        quantity("cover_tolerance", TOLERANCE, D::Length, "5 thou").form(Form::Tolerance, ""),
        USE,
        WANDER,
        LEARNED,
        quantity("seed", (0.0, 9e15), D::Ratio, "1")
            .form(Form::Count(u64::MAX), "N")
            .help("seed of the sampled assemblies"),
        quantity("assemblies", (100.0, 1e6), D::Ratio, "10000")
            .form(Form::Count(1_000_000), "N")
            .help("number of assemblies to sample"),
    ],
    judges_others: false,
    of: |case| Ok(of(case)),
};

fn of(Case { machine, usage, given, .. }: Case) -> Posed {
    let mut wish = Wish::new(machine, usage);
    wish.known = given.known();
    given.set("wander", &mut wish.wander);
    given.set("cover", &mut wish.cover.0);
    given.set("cover_tolerance", &mut wish.cover.1);
    given.set_count("seed", &mut wish.seed);
    given.set_count("assemblies", &mut wish.assemblies);
    let answer = move |done: &(dyn Fn() + Sync)| Ok(gaps(&wish).inspect(|_| done())?.into());
    Posed { what: "gaps worn", trials: 1, answer: Box::new(answer) }
}
