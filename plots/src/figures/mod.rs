//! Figures of a saved result: their names, and drawing them.

pub(crate) mod choice;
pub(crate) mod close_up;
pub(crate) mod comparison;
pub(crate) mod cutaway;
pub(crate) mod engagement;
pub(crate) mod evidence;
pub(crate) mod first;
pub(crate) mod fleet;
pub(crate) mod forecast;
pub(crate) mod gap;
pub(crate) mod gaps;
pub(crate) mod heat;
pub(crate) mod heat_map;
pub(crate) mod influence;
pub(crate) mod launches;
pub(crate) mod learned;
pub(crate) mod life;
pub(crate) mod lives;
pub(crate) mod oil;
pub(crate) mod oil_way;
pub(crate) mod oiling;
pub(crate) mod parts;
pub(crate) mod record;
pub(crate) mod remaining;
pub(crate) mod rests;
pub(crate) mod section;
pub(crate) mod temperatures;

use crate::figures::{
    fleet::FleetFigure, heat_map::SweepFigure, influence::InfluenceFigure, launches::RetracedFigure,
    learned::LearnedFigure, record::Figure,
};
use crate::sheet::{
    drawing::{DrawError, Drawing},
    look::Look,
};
use slipsoak_engine::document::{Kind, Saved};

/// A function that draws one figure with a look.
pub type Draw<'a> = Box<dyn Fn(&Look) -> Result<Drawing, DrawError> + 'a>;

/// Drawn figures, each with its name.
pub type Drawn = Vec<(&'static str, Result<Drawing, DrawError>)>;

/// Names of all figures of a kind of result.
pub fn names(kind: Kind) -> Vec<&'static str> {
    match kind {
        Kind::Record => Figure::all().iter().map(|figure| figure.name()).collect(),
        Kind::Fleet => FleetFigure::ALL.map(FleetFigure::name).into(),
        Kind::Sweep => SweepFigure::ALL.map(SweepFigure::name).into(),
        Kind::Influence => InfluenceFigure::ALL.map(InfluenceFigure::name).into(),
        Kind::Choice | Kind::Gaps | Kind::Oiling => vec![kind.name()],
        Kind::Told => LearnedFigure::ALL.map(LearnedFigure::name).into(),
        Kind::Retraced => RetracedFigure::ALL.map(RetracedFigure::name).into(),
        Kind::Calibration => vec![],
    }
}

/// Figures of a result, each with the function that draws it.
pub fn figures(saved: &Saved) -> Vec<(&'static str, Draw<'_>)> {
    /// Figures of one kind, all drawn by the same function.
    fn each<'a, F: Copy + 'a, D: Copy + 'a>(
        all: impl IntoIterator<Item = F>,
        name: impl Fn(F) -> &'static str,
        draw: impl Fn(F, D, &Look) -> Result<Drawing, DrawError> + Copy + 'a,
        of: D,
    ) -> Vec<(&'static str, Draw<'a>)> {
        let one = |figure| (name(figure), Box::new(move |look: &Look| draw(figure, of, look)) as Draw<'a>);
        all.into_iter().map(one).collect()
    }
    let name = saved.kind().name();
    match saved {
        Saved::Record(record) => {
            each(Figure::all().iter().copied(), Figure::name, crate::figures::record::draw_as, &**record)
        }
        Saved::Fleet(report) => each(FleetFigure::ALL, FleetFigure::name, FleetFigure::draw, &**report),
        Saved::Sweep(sweep) => each(SweepFigure::ALL, SweepFigure::name, SweepFigure::draw, &**sweep),
        Saved::Influence(found) => each(InfluenceFigure::ALL, InfluenceFigure::name, InfluenceFigure::draw, &**found),
        Saved::Choice(choice) => {
            vec![(name, Box::new(|look: &Look| look.laid_out(|look| crate::figures::choice::draw(choice, look))))]
        }
        Saved::Gaps(gaps) => {
            vec![(name, Box::new(|look: &Look| look.laid_out(|look| crate::figures::gaps::draw(gaps, look))))]
        }
        Saved::Oiling(plan) => {
            vec![(name, Box::new(|look: &Look| look.laid_out(|look| crate::figures::oiling::draw(plan, look))))]
        }
        Saved::Told(told) => each(LearnedFigure::of(told), LearnedFigure::name, LearnedFigure::draw, &**told),
        Saved::Retraced(ridden) => each(RetracedFigure::ALL, RetracedFigure::name, RetracedFigure::draw, &**ridden),
        Saved::Calibration(_) => vec![],
    }
}

/// Draws every figure of a result.
pub fn drawn(saved: &Saved, look: &Look) -> Drawn {
    figures(saved).into_iter().map(|(name, draw)| (name, draw(look))).collect()
}
