//! Where each drop of oil ends.

use crate::made_up::{NAMES, record};
use slipsoak_engine::names::{Channel, Entry, Supply};
use slipsoak_engine::record::{Record, Warned, Warning};
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
    // Of 4 drops of 35 mg, 90 mg stay in the bushing, 49 mg are lost to the ground, 1 mg to the air.
    let all = ["bushing", "ground", "air"].map(|ending| dots(&one, ending));
    assert_eq!(all, [26, 14, 0]);
    // Twice as much thrown off, which pores gave up.
    one.runs[0].ledgers.oil.outward.insert(Entry::Flung, 3e-5 + 1.75e-4);
    one.runs[0].ledgers.oil.held.insert(Entry::InPores, 1.0e-3 - 1.75e-4);
    // Hollow: 85 mg that the bushing gave up.
    assert_eq!(["bushing", "ground", "air"].map(|ending| dots(&one, ending)), [24, 64, 0]);
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
