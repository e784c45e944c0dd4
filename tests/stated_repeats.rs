//! Repeats that a duty states.

use slipsoak::Script;
use slipsoak::language::limits::Limits;
use slipsoak::study::request::Request;
use slipsoak::study::{Study, asked};
use slipsoak_engine::simulate::Skipping;
use std::collections::BTreeMap;
use std::path::PathBuf;

/// Hires in days, days in weeks, weeks in a season: stated by `times`, or written as loops.
#[test]
fn repeats_that_are_stated_give_the_same_record_as_loops_with_and_without_skipping() {
    let lap = "ride.idle(20.s); ride.launch(22.km_h); ride.hold(22.km_h, 60.s); ride.brake(1.5);";
    let season = |hire: &str, day: &str, week: &str| Script {
        path: PathBuf::from("season.rhai"),
        name: "season.rhai".to_owned(),
        text: format!(
            "fn hire(ride) {{ {lap} {lap} ride.motor_off(15.min); }}\n\
             fn day(ride) {{ {hire} ride.park(14.hours); }}\n\
             fn week(ride) {{ {day} ride.park(2.days); }}\n\
             fn season(ride) {{ {week} }}\n\
             compare(machine(\"example\"), duty(\"season\", Fn(\"season\")).repeated(45.days));\n"
        ),
    };
    let looped = season(
        "for k in 0..10 { hire(ride); }",
        "for k in 0..5 { day(ride); }",
        "for k in 0..3 { ride.ambient(20.degC); week(ride); }",
    );
    let stated = season(
        "ride.times(10, Fn(\"hire\"));",
        "ride.times(5, |ride| day(ride));",
        "ride.times(3, |ride| { ride.ambient(20.degC); week(ride); });",
    );
    let run = |script: &Script, skipping: f64| {
        let limits = Limits { skipping: Skipping { tolerance: skipping }, ..Limits::default() };
        let settings = BTreeMap::new();
        let request = Request::of(script, &settings, limits);
        let study = asked(&request, (1, 1), &mut |_| ()).expect("it asks");
        let Study::Runs(runs) = study else { panic!("it asks for runs") };
        let runs = runs.perform(Some(1), |_| (), &mut |_| ()).expect("it runs").record.runs;
        (serde_json::to_string(&runs).expect("it is written"), runs)
    };
    let [(full, whole), (skipped, some)] = [0.0, Skipping::default().tolerance].map(|skipping| {
        let (of_loops, of_times) = (run(&looped, skipping), run(&stated, skipping));
        assert!(of_loops.0 == of_times.0, "they differ at the tolerance {skipping}");
        of_times
    });
    assert!(full != skipped && some[0].work.steps < whole[0].work.steps / 2, "{}", some[0].work.steps);
    let told = [&whole, &some].map(|runs| &runs[0].horizon.as_ref().expect("it is repeated").errors);
    for (exact, found) in told[0].iter().zip(told[1]) {
        // Of a bushing that has lost 3e-3 of its room, the 1e-5 of it that each e-fold of time may miss are a hundredth.
        let share = if exact.quantity == "bushing wear" { 1e-2 } else { 1e-3 };
        let allowed = 3.0 * found.error + share * exact.value;
        assert!((found.value - exact.value).abs() <= allowed, "{exact:?} {found:?}");
    }
}
