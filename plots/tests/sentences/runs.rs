//! Runs of a record.

use super::said::{HOUR, RPM, Said, clauses, sentences};
use super::sweeps::sweep;
use crate::made_up::fleet::fleets;
use crate::made_up::learned::retraced;
use crate::made_up::{self, NAMES, record};
use slipsoak_engine::fault::Fault;
use slipsoak_engine::fleet::Known;
use slipsoak_engine::names::{Channel, Part, TaskName};
use slipsoak_engine::parts::{Machine, settings};
use slipsoak_engine::record::{Halt, Horizon, Record, Run, Setting, Warned, Warning};
use slipsoak_plots::words;
use slipsoak_plots::words::text::Words;
use slipsoak_plots::words::{cautions, warnings};
use slipsoak_plots::{Figure, Look};

/// Makes a run one with a weak spring that drags: engagement of a whole new set, hot and relaxed, and as new, rpm.
fn new_set(run: &mut Run, settled: f64, new: f64) {
    run.warnings = vec![
        Warning { kind: Warned::WeakShoe, value: 26.0, limit: 0.7 },
        Warning { kind: Warned::Drag, value: 26.0, limit: 0.0 },
    ];
    run.engagement.renewed = Some(settled * RPM);
    run.settings.iter_mut().filter(|s| s.path == settings::clutch::engagement.path).for_each(|s| s.value = new * RPM);
}

pub fn runs() -> Vec<Said> {
    let limit = 523.15;
    let mut record = record(&NAMES[..1]);
    let mut each = vec![];
    for (kind, _) in warnings::SIGNS {
        let hot = words::warnings::is_temperature(kind);
        let value = if hot { 560.0 } else { 12.0 };
        each.push(warnings::sentence(
            &record.runs[0],
            &Warning { kind, value, limit: if hot { limit } else { 0.003 } },
        ));
        record.runs[0].warnings.push(Warning { kind, value, limit: if hot { limit } else { 0.003 } });
    }
    let all_warnings = std::mem::take(&mut record.runs[0].warnings);
    let weakest = [0.0, 0.5, 0.96].map(|limit| {
        let warning = Warning { kind: Warned::WeakShoe, value: 181.0, limit };
        record.runs[0].warnings = vec![warning];
        (warnings::sentence(&record.runs[0], &warning), words::answer::answer(&record))
    });
    let (weak_shoes, weak_answers): (Vec<Words>, Vec<Vec<Words>>) = weakest.into_iter().unzip();
    record.runs[0].warnings = all_warnings;
    let lines: Vec<Words> = warnings::lines(&record).into_iter().map(|(_, words)| words).collect();
    let doubts: Vec<Words> = warnings::DOUBTS.iter().map(|(_, text)| (*text).into()).collect();
    let several = made_up::record(&["1800 rpm", "1900 rpm", "2000 rpm"]);
    let mut ridden = retraced();
    for (k, launch) in ridden.launches.iter_mut().enumerate() {
        launch.locked = k > 3;
        launch.fastest = if k < 2 { 0.1 } else { 99.0 };
    }
    let mut habits = made_up::record(&["cart"]);
    habits.runs.push(habits.runs[0].clone());
    for (run, (duty, fill, worn, life)) in
        habits.runs.iter_mut().zip([("never oiled", 0.54, Part::Seized, 360.0), ("oiled", 0.91, Part::Lining, 640.0)])
    {
        run.duty = duty.to_owned();
        run.windows.mean.iter_mut().for_each(|row| row[Channel::OilFill as usize] = fill);
        run.parts.truncate(1);
        (run.parts[0].part, run.parts[0].life, run.parts[0].running) = (worn, Some(life * HOUR), Some(life * HOUR));
    }
    // The bushing grabs within the season: for want of oil, which is due before, or not.
    let mut early = habits.clone();
    let oil = early.runs[0].parts[0].clone();
    early.runs[0].parts.push(oil);
    early.runs[0].parts[0].running = Some(40.0 * HOUR);
    early.runs[0].parts[1].part = Part::Oil;
    let grabs = [30.0, 50.0].map(|due| {
        early.runs[0].parts[1].running = Some(due * HOUR);
        early.runs[0].fault()
    });
    assert_eq!(grabs, [None, Some(Fault::Grabs)]);
    let again = early.runs[0].parts.clone();
    early.runs[1].parts = again;
    early.runs[1].parts[0].running = Some(45.0 * HOUR);
    let mut wrong = habits.clone();
    wrong.runs.push(wrong.runs[1].clone());
    "with PTFE".clone_into(&mut wrong.runs[2].duty);
    wrong.runs[2].windows.mean.iter_mut().for_each(|row| row[Channel::OilFill as usize] = 0.99);
    wrong.runs[2].warnings.push(Warning { kind: Warned::Additive, value: 0.25, limit: 1e-3 });
    let mut halted = several.clone();
    for run in &mut halted.runs[1..] {
        let (task, part, temperature) = (TaskName::Throttle, Channel::LiningSurface, 973.15);
        run.halt = Some(Halt { time: 723.0, task, segment: 14, part, temperature });
        run.warnings = vec![
            Warning { kind: Warned::TooHot, value: 973.15, limit: 973.15 },
            Warning { kind: Warned::Beyond, value: 973.15, limit: 773.15 },
        ];
    }
    let mut two_duties = made_up::record(&["1800 rpm", "1900 rpm", "2000 rpm", "1800 rpm", "1900 rpm", "2000 rpm"]);
    for (k, run) in two_duties.runs.iter_mut().enumerate() {
        run.duty = String::from(if k < 3 { "flat" } else { "hill" });
        if k > 2 {
            run.warnings = vec![Warning { kind: Warned::Beyond, value: 919.15, limit: 773.15 }];
        }
    }
    let warning = Warning { kind: Warned::Springs, value: 410.0, limit: 394.15 };
    two_duties.runs[2..4].iter_mut().for_each(|run| run.warnings.push(warning));
    let of_two = |duty| words::warnings::lines(duty).into_iter().map(|(_, words)| words).collect::<Vec<_>>();
    let mut due = made_up::record(&["cart"]);
    due.runs[0].horizon = Some(Horizon { service_running: Some(100.0 * HOUR), ..Horizon::default() });
    // What would help where nothing fits: too much slip, at every held speed, dragging and too much slip.
    let hot = |kind| Warning { kind, value: 560.0, limit: 523.15 };
    let held = Warning { kind: Warned::HeldSpeed, value: 4.0, limit: 6.0 };
    let none_fits = [vec![hot(Warned::Lining)], vec![hot(Warned::Lining), held], vec![hot(Warned::Drag)]];
    let none_fits = none_fits.iter().enumerate().map(|(k, warned)| {
        let mut all = several.clone();
        all.runs.iter_mut().for_each(|run| run.warnings.clone_from(warned));
        if k == 2 {
            all.runs[1..].iter_mut().for_each(|run| run.warnings = vec![hot(Warned::Lining)]);
        }
        words::answer::answer(&all)
    });
    let none_fits: Vec<Words> = none_fits.flatten().collect();
    let mut burns = several.clone();
    let burning = Warning { kind: Warned::LetGo, value: 2400.0, limit: 2000.0 };
    burns.runs.iter_mut().for_each(|run| run.warnings = vec![burning, held]);
    // A whole new set that stays clear of the idle even as hot as in the run, one that does so when cooler, and one that does not.
    let weak_set = [(2000.0, 2100.0), (1750.0, 2100.0), (1700.0, 1750.0)].map(|(settled, new)| {
        let mut weak = made_up::record(&["cart"]);
        new_set(&mut weak.runs[0], settled, new);
        words::answer::answer(&weak)
    });
    let mut longer = several.clone();
    longer.runs[1].duration *= 3.0;
    longer.runs[1].running_time *= 3.0;
    let mut one_halted = halted.clone();
    one_halted.runs.remove(0);
    one_halted.runs.truncate(1);
    let where_halted = [warnings::sentence(&halted.runs[1], &halted.runs[1].warnings[0])];
    let cautions: Vec<Words> = cautions::Caution::all().map(|c| c.text().into()).collect();
    vec![
        clauses("warning of a run", &each),
        clauses("a weak spring", &weak_shoes),
        sentences("runs with a weak spring", &weak_answers.concat()),
        clauses("warnings of runs", &lines),
        sentences("doubt", &doubts),
        sentences("caution", &cautions),
        sentences("habits of which one lets the bushing grab", &words::answer::answer(&habits)),
        sentences("habits under which the bushing grabs before its oil is due", &words::answer::answer(&early)),
        sentences("a run with all warnings", &words::answer::answer(&record)),
        sentences("runs", &words::answer::answer(&several)),
        sentences("runs of which two were stopped", &words::answer::answer(&halted)),
        sentences("runs of which none fits", &none_fits),
        sentences("a run with a weak spring among sound ones", &weak_set.concat()),
        sentences("runs that burn if ridden so", &words::answer::answer(&burns)),
        sentences("habits that oil a full bushing, one of them too much", &words::answer::answer(&too_much())),
        sentences("habits of which one oils with PTFE", &words::answer::answer(&wrong)),
        sentences("a run whose oil is due", &words::answer::answer(&due)),
        sentences("machines under two duties", &words::answer::answer(&two_duties)),
        clauses("warnings under two duties", &of_two(&two_duties)),
        sentences("a run that was stopped", &words::answer::answer(&one_halted)),
        clauses("where a run was stopped", &where_halted),
        sentences("a recorded ride", &words::retraced::answer(&ridden)),
        sentences("how sure answers of calibrated machines are", &calibrated()),
        sentences(
            "how sure answers are",
            &[
                words::answer::sure(&record),
                words::answer::sure(&several),
                words::answer::brief(&several),
                words::answer::brief(&longer),
                words::fleet::sure(&fleets(&[("1900 rpm", 145.0, 2.0)])),
                words::sweep::sure(&sweep(&|_| 400.0, false)).into(),
                words::retraced::SURE.into(),
            ],
        ),
    ]
}

/// Habits under which the bushing stays full; twenty drops take grip and life.
fn too_much() -> Record {
    let mut habits = made_up::record(&["cart"; 3]);
    let all = [
        ("never", 3000.0, [1.0, 1.0]),
        ("a drop after", 2990.0, [0.92, 0.97]),
        ("20 drops before", 2500.0, [0.22, 0.57]),
    ];
    for (run, (duty, life, grip)) in habits.runs.iter_mut().zip(all) {
        run.duty = duty.to_owned();
        run.windows.mean.iter_mut().for_each(|row| row[Channel::OilFill as usize] = 1.0);
        run.parts.truncate(1);
        (run.parts[0].part, run.parts[0].life, run.parts[0].running) =
            (Part::Washer, Some(life * HOUR), Some(life * HOUR));
        run.grip = Some(grip);
    }
    habits
}

#[test]
fn habits_on_a_full_bushing_are_said_alike_and_what_too_much_oil_takes_of_the_grip() {
    let record = too_much();
    let said =
        words::answer::answer(&record).iter().map(Words::text).collect::<Vec<_>>().join(" ").replace('\u{a0}', " ");
    assert!(said.contains("Under “never” and “a drop after” it lasts"), "{said}");
    assert!(
        said.contains("Under “20 drops before” oil on the lining takes up to 78 % of its grip, 43 % at the end"),
        "{said}"
    );
    let title = |record: &Record| {
        let svg = Figure::Oil.draw(record, &Look::default()).expect("it draws").svg;
        svg.split_once("<title>").expect("a title").1.split("</title>").next().expect("ends").to_owned()
    };
    assert!(title(&record).starts_with("The bushing is full each time: it keeps "), "{}", title(&record));
    let mut low = record;
    low.runs[0].windows.mean.iter_mut().for_each(|row| row[Channel::OilFill as usize] = 0.9);
    assert!(title(&low).starts_with("Of the oil put on, "), "{}", title(&low));
    low.runs.iter_mut().for_each(|run| run.grip = Some([0.95, 1.0]));
    assert!(!words::answer::answer(&low).iter().any(|words| words.text().contains("of its grip")));
}

#[test]
fn a_wrong_oil_is_answered_by_another_oil() {
    let helps = |also: &[Warned]| {
        let mut record = made_up::record(&["A", "B"]);
        for run in &mut record.runs {
            let warned = std::iter::once(&Warned::Additive).chain(also);
            run.warnings = warned.map(|kind| Warning { kind: *kind, value: 1.0, limit: 0.0 }).collect();
            run.engagement.settled = Some(5000.0 * RPM);
            run.engagement.idle = None;
        }
        words::answer::answer(&record).last().map(Words::text).unwrap_or_default()
    };
    assert!(helps(&[]).starts_with("What would help: a straight petroleum oil, such as SAE 30"), "{}", helps(&[]));
    let hot = helps(&[Warned::Lining]);
    assert!(hot.starts_with("What would help: less slip") && hot.contains("Use a straight petroleum oil"), "{hot}");
}

/// How sure the answers of a study are of whose two machines one is calibrated, and those of a calibrated sweep.
fn calibrated() -> Vec<Words> {
    let mut record = made_up::record(&["cart", "real"]);
    let known = |path: &str, factor| Known { path: path.to_owned(), factor };
    record.runs[1].learned = vec![known("lining.wear", 1.55), known("oiling.leak", 1.244)];
    let mut swept = sweep(&|_| 400.0, false);
    swept.rows[0].summary.learned.clone_from(&record.runs[1].learned);
    let one = [words::answer::sure(&record), words::answer::brief(&record)];
    record.runs.remove(0);
    let all = [words::answer::sure(&record), words::answer::brief(&record), words::sweep::sure(&swept).into()];
    one.into_iter().chain(all).collect()
}

#[test]
fn a_run_with_a_weak_spring_is_answered_by_a_new_set_of_the_same_where_that_stays_clear() {
    let helps = |settled, new| {
        let mut record = made_up::record(&["cart"]);
        new_set(&mut record.runs[0], settled, new);
        words::answer::answer(&record).last().map(Words::text).unwrap_or_default()
    };
    assert!(helps(2000.0, 2100.0).starts_with("What would help: a whole new set of the same springs"));
    assert!(helps(1750.0, 2100.0).contains("whether one that engages at the same speed stays clear"));
    assert!(helps(1700.0, 1750.0).starts_with("What would help: a spring that engages at a higher speed"));
}

/// Two carts whose bushings grab after 29 h, with the oil that they begin with.
#[test]
fn oil_that_is_overdue_from_the_start_is_not_said_to_be_due_later() {
    let said = |fill: f64| {
        let mut record = made_up::record(&["1800 rpm", "1900 rpm"]);
        for run in &mut record.runs {
            run.settings = Setting::all(&Machine::default());
            run.warnings.clear();
            run.parts.truncate(2);
            for (part, (of, life)) in run.parts.iter_mut().zip([(Part::Seized, 29.0), (Part::Oil, 50.0)]) {
                (part.part, part.life, part.running) = (of, Some(life * HOUR), Some(life * HOUR));
            }
            run.windows.most.iter_mut().for_each(|row| row[Channel::OilFill as usize] = fill);
        }
        let all = words::answer::answer(&record);
        all.iter().map(Words::text).collect::<Vec<_>>().join(" ").replace('\u{a0}', " ")
    };
    let (low, full) = (said(0.5), said(0.95));
    assert!(low.contains("after 29 h, its oil overdue from the start") && !low.contains("before its oil"), "{low}");
    assert!(full.contains("after 29 h, before its oil is due"), "{full}");
}
