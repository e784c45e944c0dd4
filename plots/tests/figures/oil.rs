//! Where each drop of oil ends.

use crate::made_up::{NAMES, record};
use slipsoak_engine::names::{Channel, Entry, Supply};
use slipsoak_engine::record::{OilSince, Record, Warned, Warning};
use slipsoak_plots::{Figure, Size, draw};

/// Number of dots of a destination, by what their marks say.
fn dots(record: &Record, ending: &str) -> usize {
    let svg = draw(Figure::Oil, record, Size::default()).expect("it draws").svg;
    let Some(group) = svg.split(&format!("<title>{}, {ending}: ", NAMES[0])).nth(1) else { return 0 };
    let group = group.split("</g>").next().expect("it ends");
    // A hollow dot has a smaller one of the ground's colour on it.
    group.matches("<circle").count() - group.matches("fill-paper").count()
}

#[test]
fn the_dots_of_a_row_are_the_ledger_in_tenths_of_a_drop_and_add_up() {
    let mut one = record(&NAMES[..1]);
    // Of 4 drops of 35 mg and 11 mg from clearance and washer, 100 mg are in the pores, 49 mg are lost to the ground, 1 mg to the air.
    let all = ["pores", "ground", "air"].map(|ending| dots(&one, ending));
    assert_eq!(all, [29, 14, 0]);
    // Twice as much thrown off, which pores gave up.
    one.runs[0].ledgers.oil.outward.insert(Entry::Flung, 3e-5 + 1.75e-4);
    one.runs[0].ledgers.oil.held.insert(Entry::InPores, 1.0e-3 - 1.75e-4);
    // Hollow: 75 mg that the pores gave up.
    assert_eq!(["pores", "ground", "air"].map(|ending| dots(&one, ending)), [21, 64, 0]);
}

/// Of 3 drops of 35 mg 62 mg stay and 43 mg are thrown off; 57 mg more were thrown off before they were put on.
#[test]
fn what_was_lost_before_the_first_oiling_is_none_of_the_drops() {
    let mut one = record(&NAMES[..1]);
    let run = &mut one.runs[0];
    run.supplies.insert(Supply::Drops, 3.0);
    let held = run.ledgers.oil.inward[&Entry::InPoresAtTheStart];
    run.ledgers.oil.inward.insert(Entry::PutOn, 1.05e-4);
    run.ledgers.oil.held = [(Entry::InPores, held + 5e-6), (Entry::InFilm, 4e-5), (Entry::InWasher, 2e-5)].into();
    run.ledgers.oil.outward = [(Entry::Flung, 1e-4)].into();
    let title = |record: &Record| {
        let svg = draw(Figure::Oil, record, Size::default()).expect("it draws").svg;
        svg.split_once("<title>").expect("a title").1.split("</title>").next().expect("ends").replace('\u{a0}', " ")
    };
    assert_eq!(title(&one), "Of the oil put on, 5 % stays");
    let mut ledger = one.runs[0].ledgers.oil.clone();
    ledger.inward.insert(Entry::InPoresAtTheStart, held - 5.7e-5);
    ledger.outward.insert(Entry::Flung, 4.3e-5);
    one.runs[0].oil_since = Some(OilSince { time: 600.0, ledger });
    assert_eq!(title(&one), "Of the oil put on, 59 % stays");
    assert_eq!(["pores", "ground"].map(|ending| dots(&one, ending)), [18, 12]);
    let svg = draw(Figure::Oil, &one, Size::default()).expect("it draws").svg;
    assert!(svg.contains("from the first oiling on"), "{svg}");
}

/// Ten drops leave a fuller bushing than two, and most of them end on the ground: figure and answer say both.
#[test]
fn a_larger_dose_leaves_the_bushing_fuller_and_more_on_the_ground() {
    let mut two = record(&["2 drops", "10 drops"]);
    for (run, (drops, lost, fill)) in two.runs.iter_mut().zip([(2.0, 0.0, 0.933), (10.0, 6.4, 0.989)]) {
        let mass = 3.5e-5;
        run.supplies.insert(Supply::Drops, drops);
        run.ledgers.oil.inward.insert(Entry::PutOn, drops * mass);
        let start = run.ledgers.oil.inward[&Entry::InPoresAtTheStart];
        run.ledgers.oil.held.insert(Entry::InPores, start + (drops - lost) * mass);
        run.ledgers.oil.outward = [(Entry::Flung, lost * mass)].into();
        run.windows.mean.iter_mut().for_each(|row| row[Channel::OilFill as usize] = fill);
    }
    let svg = draw(Figure::Oil, &two, Size::default()).expect("it draws").svg.replace('\u{a0}', " ");
    let said = "“10 drops” leaves the bushing fuller, 98.9 % against 93.3 % with “2 drops”, but 6.4 of its 10 drops end on the ground";
    assert!(svg.contains(&format!("<title>{said}</title>")), "{svg}");
    // Of the larger dose no more is lost.
    two.runs[1].ledgers.oil.outward.insert(Entry::Flung, 0.0);
    let svg = draw(Figure::Oil, &two, Size::default()).expect("it draws").svg;
    assert!(!svg.contains("end on the ground"), "{svg}");
}

#[test]
fn many_drops_have_a_dot_for_ten_of_them() {
    let mut one = record(&NAMES[..1]);
    one.runs[0].supplies.insert(Supply::Drops, 1000.0);
    one.runs[0].ledgers.oil.inward.insert(Entry::PutOn, 0.035);
    one.runs[0].ledgers.oil.outward.insert(Entry::Flung, 0.035 - 1.1e-4);
    assert_eq!(dots(&one, "ground"), 100);
    let svg = draw(Figure::Oil, &one, Size::default()).expect("it draws").svg;
    assert!(svg.contains("(a dot: 10 drops)"), "{svg}");
}

/// The second of two habits has an oil that stays on the lining: a sign in words marks its curve and its row, on a narrow sheet too.
#[test]
fn a_habit_with_the_wrong_oil_is_marked_by_words_that_no_colour_carries() {
    let mut two = record(&["plain", "with PTFE"]);
    let drawn = |record: &Record, width: u32| {
        let svg = draw(Figure::Oil, record, Size { width, height: 0 }).expect("it draws").svg;
        svg.replace('\n', "")
    };
    assert!(!drawn(&two, 960).contains("wrong oil"));
    two.runs[1].warnings.push(Warning { kind: Warned::Additive, value: 1e-4, limit: 0.0 });
    for width in [960, 480] {
        let svg = drawn(&two, width);
        assert_eq!(svg.matches("+ wrong oil: never use").count(), 1, "{width}");
        assert!(svg.contains("with PTFE +") && !svg.contains("plain +"), "{width}");
        assert!(svg.contains("+ wrong oil: PTFE"), "{width}");
    }
}

#[test]
fn a_row_says_parts_of_a_drop_and_one_drop() {
    let mut one = record(&NAMES[..1]);
    let mut said = |drops: f64| {
        one.runs[0].supplies.insert(Supply::Drops, drops);
        draw(Figure::Oil, &one, Size::default()).expect("it draws").svg
    };
    assert!(said(3.2).contains("3.2 drops put on"));
    assert!(said(1.0).contains("1 drop put on") && said(12.0).contains("12 drops put on"));
}

/// Of a full bushing that loses more on a ride than three drops bring, no share of the drops can be said to stay.
#[test]
fn habits_that_lose_more_than_they_bring_are_headed_by_what_the_pores_hold() {
    let mut two = record(&["before", "after"]);
    for (run, (lost, fill)) in two.runs.iter_mut().zip([(-8e-5, 0.961), (-3e-5, 0.995)]) {
        run.ledgers.oil.inward.insert(Entry::PutOn, 1.1e-4);
        let start = run.ledgers.oil.inward[&Entry::InPoresAtTheStart];
        run.ledgers.oil.held.insert(Entry::InPores, start + lost);
        run.windows.mean.iter_mut().for_each(|row| row[Channel::OilFill as usize] = fill);
    }
    let svg = draw(Figure::Oil, &two, Size::default()).expect("it draws").svg.replace('\u{a0}', " ");
    assert!(
        svg.contains("<title>At the end the pores hold 99.5 % with “after”, 96.1 % with “before”</title>"),
        "{svg}"
    );
}

/// 90 of 140 mg stay with both of the first two habits, 40 with the third.
#[test]
fn habits_that_keep_as_much_are_named_together() {
    let mut three = record(&["a night", "ten minutes", "before"]);
    let title = |record: &Record| {
        let svg = draw(Figure::Oil, record, Size::default()).expect("it draws").svg;
        svg.split_once("<title>").expect("a title").1.split("</title>").next().expect("ends").replace('\u{a0}', " ")
    };
    for (run, kept) in three.runs.iter_mut().zip([9e-5, 9e-5, 4e-5]) {
        run.ledgers.oil.inward.insert(Entry::PutOn, 1.4e-4);
        let start = run.ledgers.oil.inward[&Entry::InPoresAtTheStart];
        run.ledgers.oil.held.insert(Entry::InPores, start + kept);
    }
    let said = title(&three);
    assert!(said.contains("stays with “a night” and “ten minutes”, ") && said.ends_with("with “before”"), "{said}");
}

#[test]
fn a_narrow_figure_explains_no_bars_that_it_lacks() {
    let note = |width: u32| {
        let svg = draw(Figure::Oil, &record(&NAMES), Size { width, height: 600 }).expect("it draws").svg;
        svg.contains("(pale)")
    };
    assert!(note(960) && !note(480));
}
