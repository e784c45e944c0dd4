//! The figures of a saved result: which there are, and drawing them.

use crate::{
    DrawError, Drawing, Figure, FleetFigure, InfluenceFigure, LearnedFigure, Look, RetracedFigure, SweepFigure,
};
use slipsoak_engine::document::{Kind, Saved};

/// Draws one figure with a look.
pub type Draw<'a> = Box<dyn Fn(&Look) -> Result<Drawing, DrawError> + 'a>;

/// Figures as they were drawn, each with its name.
pub type Drawn = Vec<(&'static str, Result<Drawing, DrawError>)>;

/// The names of all figures that a result of a kind may have.
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

/// The figures of a result with how each is drawn.
pub fn figures(saved: &Saved) -> Vec<(&'static str, Draw<'_>)> {
    /// Figures of a kind, each drawn by the same function.
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
        Saved::Record(record) => each(Figure::all().iter().copied(), Figure::name, crate::draw_as, &**record),
        Saved::Fleet(report) => each(FleetFigure::ALL, FleetFigure::name, FleetFigure::draw, &**report),
        Saved::Sweep(sweep) => each(SweepFigure::ALL, SweepFigure::name, SweepFigure::draw, &**sweep),
        Saved::Influence(found) => each(InfluenceFigure::ALL, InfluenceFigure::name, InfluenceFigure::draw, &**found),
        Saved::Choice(choice) => vec![(name, Box::new(|look| crate::choice(choice, look)))],
        Saved::Gaps(gaps) => vec![(name, Box::new(|look| crate::gaps(gaps, look)))],
        Saved::Oiling(plan) => vec![(name, Box::new(|look| crate::oiling(plan, look)))],
        Saved::Told(told) => each(LearnedFigure::of(told), LearnedFigure::name, LearnedFigure::draw, &**told),
        Saved::Retraced(ridden) => each(RetracedFigure::ALL, RetracedFigure::name, RetracedFigure::draw, &**ridden),
        Saved::Calibration(_) => vec![],
    }
}

/// Draws every figure of a result.
pub fn drawn(saved: &Saved, look: &Look) -> Drawn {
    figures(saved).into_iter().map(|(name, draw)| (name, draw(look))).collect()
}
