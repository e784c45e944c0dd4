//! The figures: one row each, and drawing them.

pub mod answer_values;
mod cells;
pub mod changed;
pub(crate) mod choice;
mod choice_panel;
mod chosen;
mod close_up;
mod compared_columns;
mod compared_limits;
pub(crate) mod comparison;
pub(crate) mod cutaway;
mod cycles;
pub(crate) mod engagement;
mod engagement_feet;
pub(crate) mod events;
pub(crate) mod evidence;
mod failures;
mod film_strip;
mod fleet;
pub(crate) mod forecast;
pub(crate) mod gains;
pub(crate) mod gap;
mod gap_section;
pub(crate) mod gaps;
pub(crate) mod heat;
pub(crate) mod heat_map;
mod heat_paths;
mod heat_ribbons;
mod heat_shares;
mod hottest_launches;
pub(crate) mod influence;
mod influence_bars;
mod late_bars;
pub(crate) mod launch;
pub(crate) mod launches;
pub(crate) mod life;
pub(crate) mod life_compared;
mod map_axes;
mod margins;
pub(crate) mod measure;
pub(crate) mod measured;
mod moment;
pub(crate) mod oil;
mod oil_drops;
mod oil_rows;
pub(crate) mod oiling;
mod painted;
mod part_mark;
pub(crate) mod reading;
pub(crate) mod rests;
mod ribbon;
pub(crate) mod ride;
mod ride_curve;
mod ride_finding;
mod ride_section;
pub(crate) mod season;
pub(crate) mod section;
mod shared_curves;
mod spares;
pub(crate) mod still_running;
mod table_column;
pub(crate) mod temperatures;
pub(crate) mod temperatures_compared;

use crate::figures::{cells::Cells, influence::Bars};
use crate::sheet::{
    draw_error::DrawError,
    drawing::Drawing,
    look::{Look, Size},
};
use slipsoak_engine::document::{Kind, Saved, Shown};
use slipsoak_engine::fleet::{Fleet, Report};
use slipsoak_engine::record::Record;
use slipsoak_engine::sensitivity::Measure;
use slipsoak_engine::stack_up::Course;

/// A function that draws one figure with a look.
pub type Draw<'a> = Box<dyn Fn(&Look) -> Result<Drawing, DrawError> + 'a>;

/// Drawn figures, each with its name.
pub type Drawn = Vec<(&'static str, Result<Drawing, DrawError>)>;

/// Declares the figures: kind of document, name of the file, and the function that draws it.
macro_rules! figures {
    ($(#[doc = $shows:literal] $figure:ident: $kind:ident = $name:literal, $draw:expr;)+) => {
        /// A figure.
        #[derive(Clone, Copy, Debug, PartialEq, Eq)]
        pub enum Figure {
            $(#[doc = $shows] $figure,)+
        }

        impl Figure {
            /// Every figure, in the order of pages.
            pub const ALL: &[Self] = &[$(Self::$figure),+];

            /// Stem of its file's name.
            pub const fn name(self) -> &'static str {
                match self { $(Self::$figure => $name,)+ }
            }

            /// What it shows.
            pub const fn shows(self) -> &'static str {
                match self { $(Self::$figure => $shows.trim_ascii(),)+ }
            }

            /// Kind of document that it is drawn from.
            pub const fn kind(self) -> Kind {
                match self { $(Self::$figure => Kind::$kind,)+ }
            }

            fn inside(self, of: Shown<'_>, look: &Look) -> Result<Drawing, DrawError> {
                match (self, of) {
                    $((Self::$figure, Shown::$kind(document)) => ($draw)(document, look),)+
                    _ => Err(DrawError::Empty),
                }
            }
        }
    };
}

figures! {
    /// temperatures of all runs on one axis, and in the last quarter
    TemperaturesCompared: Record = "temperatures-compared", temperatures_compared::draw;
    /// lives of all runs on one axis of running hours
    LifeCompared: Record = "life-compared", life_compared::draw;
    /// all runs side by side
    Comparison: Record = "comparison", comparison::draw;
    /// a ride: the clutch cut open at the moment that matters most, five moments, and the temperatures that tie them together
    Ride: Record = "ride", ride::draw;
    /// the clutch cut open, its parts coloured by temperature, from the ride to half an hour after it
    Cutaway: Record = "cutaway", cutaway::draw;
    /// temperatures over the duty, one panel a run, and one launch
    Temperatures: Record = "temperatures", temperatures::draw;
    /// the hottest launch of each run, laid over one another
    Launch: Record = "launch", launch::draw;
    /// destinations of the frictional heat
    Heat: Record = "heat", heat::draw;
    /// oil fill over the duty, and destinations of the oil
    Oil: Record = "oil", oil::draw;
    /// remaining life of each part over hours, one panel a run
    Life: Record = "life", life::draw;
    /// torques of motor, clutch and vehicle over the motor's speed
    Engagement: Record = "engagement", engagement::draw;
    /// the stack under the cover, and its gap
    Gap: Record = "gap", gap::draw;
    /// clutches still running over time, those that fail, and spares
    StillRunning: Fleet = "still-running", still_running::draw;
    /// how many times as long each sampled clutch lasts in another fleet
    Gains: Fleet = "gains", gains::draw;
    /// highest temperature of the lining over settings
    LiningPeaks: Sweep = "lining-peak", |sweep, look| Cells::LiningPeak.draw(sweep, look);
    /// slip energy of a launch over settings
    SlipEnergies: Sweep = "slip-energy", |sweep, look| Cells::SlipEnergy.draw(sweep, look);
    /// life over settings, and the part that wears out first
    Lives: Sweep = "life", |sweep, look| Cells::Life.draw(sweep, look);
    /// sensitivity of the life
    MattersForTheEnd: Influence = "what-matters-for-the-end", |found, look| Bars(Measure::End).draw(found, look);
    /// sensitivity of the time to service
    MattersForTheOil: Influence = "what-matters-for-the-oil", |found, look| Bars(Measure::Service).draw(found, look);
    /// sensitivity of the lining's highest temperature
    MattersForTheLining: Influence = "what-matters-for-the-lining", |found, look| Bars(Measure::LiningPeak).draw(found, look);
    /// springs side by side
    Springs: Choice = "choice", choice::draw;
    /// washer and gap over hours of riding
    Gaps: Gaps = "gaps", gaps::draw;
    /// how long an oiling lasts, and what is kept of it
    Oilings: Oiling = "oiling", oiling::draw;
    /// carts, their events and their spare parts over a season
    Season: Season = "season", season::draw;
    /// what to measure: ranges known today and expected afterwards
    Measurements: Measure = "measure", measure::draw;
    /// measurements against the fit
    Evidence: Told = "evidence", evidence::draw;
    /// lives of a fleet before and after the calibration
    Forecast: Told = "forecast", forecast::draw;
    /// speed over time, and number of launches by slip energy
    Launches: Retraced = "launches", launches::draw;
}

impl Figure {
    /// The figures of a kind of document.
    pub fn of(kind: Kind) -> impl Iterator<Item = Self> {
        Self::ALL.iter().copied().filter(move |figure| figure.kind() == kind)
    }

    /// Draws it from a document of its kind.
    pub fn draw<'a>(self, of: impl Into<Shown<'a>>, look: &Look) -> Result<Drawing, DrawError> {
        let of = of.into();
        match of {
            Shown::Record(record) => {
                reading::check(record)?;
                let known =
                    |asked: &&String| record.runs.iter().any(|run| chosen::named(record, run, &[(*asked).clone()]));
                if let Some(asked) = look.of.iter().find(|asked| !known(asked)) {
                    return Err(DrawError::Unnamed(asked.clone()));
                }
            }
            _ if !look.of.is_empty() => return Err(DrawError::Unnamed(look.of[0].clone())),
            Shown::Fleet(report) if !drawable(report) => return Err(DrawError::Empty),
            _ => {}
        }
        self.inside(of, look)
    }

    /// Whether a document has it: lives after a calibration only if they were requested, those of fleets only if there are any, wear
    /// of the washer only where nothing fails before, seasons and measurements only of machines that may be ridden, comparisons only of
    /// several runs.
    fn stands_in(self, of: Shown<'_>) -> bool {
        match (self, of) {
            (Self::Forecast, Shown::Told(told)) => told.forecast.is_some(),
            (Self::TemperaturesCompared | Self::LifeCompared, Shown::Record(record)) => record.runs.len() > 1,
            (Self::Gaps, Shown::Gaps(gaps)) => gaps.courses.first().is_some_and(Course::holds),
            (Self::Season, Shown::Season(season)) => season.may_ride(),
            (Self::Measurements, Shown::Measure(plan)) => plan.may_ride(),
            (Self::Gains, Shown::Fleet(report)) if !gains::known(report) => false,
            (_, Shown::Fleet(report)) => !report.fleets.iter().all(Fleet::unknown),
            _ => true,
        }
    }
}

/// Whether there are fleets with clutches, and none without but where all are beyond the model.
fn drawable(report: &Report) -> bool {
    let known = || report.fleets.iter().filter(|fleet| !fleet.unknown());
    known().next().is_some() && known().all(|fleet| !fleet.outcomes.is_empty())
}

/// Names of all figures of a kind of result.
pub fn names(kind: Kind) -> Vec<&'static str> {
    Figure::of(kind).map(Figure::name).collect()
}

/// Figures of a result, each with the function that draws it.
pub fn figures(saved: &Saved) -> Vec<(&'static str, Draw<'_>)> {
    let of = saved.shown();
    let all = Figure::of(saved.kind()).filter(|figure| figure.stands_in(of));
    all.map(|figure| (figure.name(), Box::new(move |look: &Look| figure.draw(of, look)) as Draw<'_>)).collect()
}

/// Figures that a page shows without a click: those that compare all runs, else those of a single run over time; of other kinds
/// of results all.
const LEADING: [[Figure; 2]; 2] =
    [[Figure::TemperaturesCompared, Figure::LifeCompared], [Figure::Temperatures, Figure::Life]];

/// Which of the figures of a result lead its page.
pub(crate) fn leads(names: &[&'static str]) -> Vec<&'static str> {
    let two =
        LEADING.into_iter().map(|two| two.map(Figure::name)).find(|two| two.iter().all(|name| names.contains(name)));
    two.map_or_else(|| names.to_vec(), Vec::from)
}

/// Draws every figure of a result for a page: those that lead it also for a narrow window.
pub fn drawn_for_page(saved: &Saved) -> Drawn {
    let all = figures(saved);
    let leading = leads(&all.iter().map(|(name, _)| *name).collect::<Vec<_>>());
    let one = |(name, draw): (&'static str, Draw<'_>)| {
        (name, if leading.contains(&name) { for_page(&draw) } else { draw(&Look::default()) })
    };
    all.into_iter().map(one).collect()
}

/// Draws a figure that leads a page, also for a narrow window.
pub(crate) fn for_page(draw: &dyn Fn(&Look) -> Result<Drawing, DrawError>) -> Result<Drawing, DrawError> {
    let narrow = Look { size: Size { width: NARROW, height: 0 }, ..Look::default() };
    Ok(draw(&Look::default())?.or(draw(&narrow).ok()))
}

/// Width of a figure for a narrow window, px.
const NARROW: u32 = 420;

/// Draws every figure of a result.
pub fn drawn(saved: &Saved, look: &Look) -> Drawn {
    figures(saved).into_iter().map(|(name, draw)| (name, draw(look))).collect()
}

/// Draws a figure of a record on a light background, with its own title and caption.
pub fn draw(figure: Figure, record: &Record, size: Size) -> Result<Drawing, DrawError> {
    figure.draw(record, &Look { size, ..Look::default() })
}
