//! What lives depend on.

use super::said::{HOUR, Said, sentences};
use slipsoak_engine::fault::Fault;
use slipsoak_engine::names::Part;
use slipsoak_engine::sensitivity::{Answer, Influence, Influences, Ranking};
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;

/// Sensitivities of three machines.
pub fn rankings() -> Influences {
    let at = |hours: f64| Answer {
        end: Some(hours * HOUR),
        ended_by: Some(Part::Lining),
        service_due: None,
        running_share: 0.25,
        lining_peak: 460.0,
        wrong_oil: false,
        descends: false,
        fault: None,
    };
    let influence = |low: f64, high: f64| Influence {
        draw: "lining.wear".to_owned(),
        by_script: false,
        settings: vec![],
        low: at(low),
        high: at(high),
        end: None,
        service_due: None,
        lining_peak: None,
    };
    let of = |influences: Vec<Influence>| Ranking {
        variant: "1900 rpm".to_owned(),
        duty: "day".to_owned(),
        horizon: Some(600.0 * HOUR),
        running_share: 0.25,
        nominal: at(430.0),
        influences,
        beyond: 3,
    };
    let rankings =
        [of(vec![influence(700.0, 200.0), influence(430.0, 430.0)]), of(vec![influence(430.0, 430.0)]), of(vec![])];

    let (kind, head) = Default::default();
    Influences { kind, head, rows: 64, rankings: rankings.into(), runs: 200, failed: vec![] }
}

pub fn influences() -> Vec<Said> {
    let Influences { rankings, .. } = rankings();
    // A value in the middle is the best.
    let mut between = rankings[0].clone();
    between.influences[0].low.end = Some(300.0 * HOUR);
    let verdicts: Vec<Words> = rankings.iter().chain([&between]).map(words::influence::verdict).collect();
    let mut wrong = rankings[0].clone();
    wrong.nominal.wrong_oil = true;
    let wrong: Vec<Words> =
        [false, true].into_iter().filter_map(|several| words::influence::wrong_oil(&wrong, several)).collect();
    // By one setting alone it no longer fits, but for what a margin or an oil has in common with all values.
    let mut alone = rankings[0].clone();
    alone.influences = vec![alone.influences[0].clone(); 6];
    for (k, influence) in alone.influences.iter_mut().enumerate() {
        influence.high.fault = Some([Fault::Early, Fault::Near, Fault::Lining][k.min(2)]);
        influence.low.fault = (k == 5).then_some(Fault::Stalls);
    }
    let mut unfit = rankings[0].clone();
    unfit.nominal.fault = Some(Fault::Settles);
    let faults = [(&alone, false), (&unfit, true), (&rankings[0], true)];
    let faults: Vec<Words> =
        faults.into_iter().filter_map(|(ranking, several)| words::influence::unfit(ranking, several)).collect();
    assert_eq!(faults.len(), 2, "the last one fits throughout");
    let note = words::influence::note(&rankings[0], 64);
    vec![
        sentences("what matters", &verdicts),
        sentences("what matters with the wrong oil", &wrong),
        sentences("what matters, what does not fit", &faults),
        sentences("what matters, how to read it", &[note.into(), words::influence::SURE.into()]),
    ]
}
