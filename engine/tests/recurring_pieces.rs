//! Skipping of what recurs inside a block: days, hires and weekends of a season.

use crate::lifetime::{HARDLY_WORN, compare, engaging, round, stepped};
use slipsoak_engine::duty::{End, Segment, Service, Task};
use slipsoak_engine::parts::{Machine, Oil, settings};
use slipsoak_engine::simulate::{Skipping, Tolerance};
use slipsoak_engine::units::HOUR;

/// Weeks of four days of two outings, with the temperature of each month and with services at the ends of the weeks.
fn season(weeks: usize, service: Option<&Service>) -> Vec<Segment> {
    let rest = |time: f64| Segment::Ride(Task::Off, End::After(time));
    let outing = [round(20.0, 24.0, 200.0), round(20.0, 24.0, 100.0), vec![rest(0.5 * HOUR)]].concat();
    let day = [outing.clone(), outing, vec![rest(16.0 * HOUR)]].concat();
    let week = |k: usize| {
        let air = Segment::Service(Service::Adjust(
            &settings::surroundings::ambient,
            [283.15, 293.15, 301.15][k * 3 / weeks],
        ));
        let service = service.map(|service| Segment::Service(service.clone()));
        [vec![air], vec![day.clone(); 4].concat(), service.into_iter().collect(), vec![rest(56.0 * HOUR)]].concat()
    };
    (0..weeks).flat_map(week).collect()
}

/// A block that is performed once: nothing but what recurs inside it can be skipped.
#[test]
fn the_days_of_a_season_with_weather_are_skipped_accurately() {
    let block = season(18, None);
    compare("season", &engaging(1900.0), &block, 2000.0, HARDLY_WORN);
    let (run, horizon) = stepped(&engaging(1900.0), &block, 2000.0, Skipping::default().tolerance, Tolerance::RUNS);
    // All launches are counted, those of skipped days too.
    assert_eq!((run.launches, horizon.blocks_run, horizon.blocks_skipped), (18 * 4 * 4, 1, 0));
}

#[test]
fn a_season_that_is_oiled_every_week_is_skipped_accurately_and_counts_its_drops() {
    let service = Service::Oil { drops: 3.0, oil: Oil::named("SAE 30").expect("an oil") };
    let block = season(15, Some(&service));
    compare("oiled weekly", &engaging(1900.0), &block, 1700.0, HARDLY_WORN);
    let (run, _) = stepped(&engaging(1900.0), &block, 1700.0, Skipping::default().tolerance, Tolerance::RUNS);
    let drops: Vec<f64> = run.supplies.values().copied().collect();
    assert_eq!(drops, [45.0]);
}

/// Of a simulated day most hires are foretold in turn. Cut into days alone, this season took 444 hires.
#[test]
fn the_hires_inside_the_days_of_a_season_are_skipped_accurately() {
    let rest = |hours: f64| vec![Segment::Ride(Task::Off, End::After(hours * HOUR))];
    let hire = [vec![round(20.0, 22.0, 180.0); 2].concat(), rest(0.25)].concat();
    let day = [vec![hire; 12].concat(), rest(14.0)].concat();
    let air = |k: usize| {
        let air = 283.15 + 8.0 * (k / 9) as f64;
        vec![Segment::Service(Service::Adjust(&settings::surroundings::ambient, air))]
    };
    let block = (0..18).flat_map(|k| [air(k), vec![day.clone(); 4].concat(), rest(60.0)].concat()).collect::<Vec<_>>();
    let horizon = compare("season of hires", &engaging(1900.0), &block, 2500.0, HARDLY_WORN);
    let hires = horizon.inside.iter().find(|piece| piece.lasts < HOUR).expect("hires recur inside");
    assert!(hires.skipped > hires.run && hires.run < 250, "{:?}", horizon.inside);
}

/// The weekend after the oiling loses a tenth of a full bushing's oil, more than a jump may take: once each was simulated.
#[test]
fn the_weekends_after_an_oiling_are_skipped_too() {
    let rest = |hours: f64| vec![Segment::Ride(Task::Off, End::After(hours * HOUR))];
    let outing = || [round(60.0, 20.0, 840.0), round(60.0, 20.0, 840.0)].concat();
    let weekend = [rest(144.0), outing(), rest(23.0), outing()].concat();
    let oil = Segment::Service(Service::Oil { drops: 3.0, oil: Machine::default().oil });
    let block = [vec![weekend; 4].concat(), vec![oil]].concat();
    let horizon = compare("oiled every fourth weekend", &Machine::default(), &block, 26_280.0, 1e-3);
    assert!(horizon.inside.iter().all(|piece| piece.skipped > piece.run), "{:?}", horizon.inside);
}
