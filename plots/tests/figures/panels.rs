//! Which runs a figure of panels shows, and what it says of the others.

use crate::made_up::{NAMES, record};
use slipsoak_engine::document::Kind;
use slipsoak_plots::{Figure, Look, Size, draw};

#[test]
fn a_figure_of_panels_shows_the_first_the_longest_and_the_shortest_lived_and_says_so() {
    let names: Vec<String> = (0..15).map(|k| format!("machine {k}")).collect();
    let mut many = record(&names.iter().map(String::as_str).collect::<Vec<_>>());
    for (k, run) in many.runs.iter_mut().enumerate() {
        let life = if k == 13 {
            9e6
        } else if k == 14 {
            1e3
        } else {
            1e5
        };
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(life), Some(life)));
    }
    for figure in Figure::of(Kind::Record) {
        let svg = draw(figure, &many, Size::default()).expect("it draws").svg;
        for name in ["machine 0", "machine 13", "machine 14"] {
            // All of these have the same clutch and the same launch, and a ride is that of one.
            let one = matches!(figure, Figure::Engagement | Figure::Launch | Figure::Ride);
            assert!(one || svg.contains(name), "{} lacks {name}", figure.name());
        }
        let panels = ["others by --of", "the same for all 15"].iter().any(|words| svg.contains(words));
        let whole =
            panels || names.iter().all(|name| svg.contains(&format!("{name}\n")) || svg.contains(&format!("{name}<")));
        assert!(whole || svg.contains(" of 15 runs") || figure == Figure::Engagement, "{} hides some", figure.name());
    }
}

#[test]
fn panels_show_the_longest_the_reference_and_the_shortest_or_the_runs_asked_for_and_say_so() {
    let names: Vec<String> = (0..7).map(|k| format!("spring {k}")).collect();
    let mut seven = record(&names.iter().map(String::as_str).collect::<Vec<_>>());
    for (k, run) in seven.runs.iter_mut().enumerate() {
        let life = [4e6, 5e6, 1e6, 6e6, 9e6, 7e6, 8e6][k];
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (Some(life), Some(life)));
        run.warnings.clear();
        run.engagement.settled = None;
        run.overall.least.fill(f64::NAN);
    }
    let seen = |svg: &str| (0..7).filter(|k| svg.contains(&format!("\nspring {k}\n"))).collect::<Vec<_>>();
    let drawn = |of: &[&str]| {
        let of = of.iter().map(|name| (*name).to_owned()).collect();
        Figure::Life.draw(&seven, &Look { of, ..Look::default() }).map(|drawing| drawing.svg)
    };
    let svg = drawn(&[]).expect("it draws");
    assert_eq!(seen(&svg), [0, 2, 4]);
    let words = svg.split_whitespace().collect::<Vec<_>>().join(" ");
    assert!(words.contains("3 of 7 runs") && words.contains("others by --of"), "{words}");
    assert!(words.contains("the longest-lived that fits, the reference and the shortest-lived"), "{words}");
    let asked = drawn(&["spring 5", "spring 6"]).expect("it draws");
    assert_eq!(seen(&asked), [5, 6]);
    assert!(asked.contains("Shown: those named"));
    assert_eq!(drawn(&["spring 9"]), Err(slipsoak_plots::DrawError::Unnamed("spring 9".to_owned())));
}

#[test]
fn panels_that_would_be_equal_are_one_that_says_for_how_many_it_stands() {
    let mut four = record(&["a", "b", "c", "d"]);
    let first = four.runs[0].clone();
    for run in &mut four.runs[1..] {
        *run = slipsoak_engine::record::Run { variant: run.variant.clone(), ..first.clone() };
    }
    for figure in [Figure::Heat, Figure::Gap, Figure::Launch, Figure::Life, Figure::Cutaway, Figure::Temperatures] {
        let svg = draw(figure, &four, Size::default()).expect("it draws").svg;
        assert_eq!(svg.matches("the same for all 4").count(), 1, "{}", figure.name());
        assert!(!svg.contains("\nc\n") && !svg.contains(" of 4 runs"), "{}", figure.name());
    }
    for (k, run) in four.runs.iter_mut().enumerate() {
        let life = Some(if k == 3 { 1e6 } else { 2e6 });
        run.parts.iter_mut().for_each(|part| (part.life, part.running) = (life, life));
    }
    let svg = draw(Figure::Life, &four, Size::default()).expect("it draws").svg;
    assert!(svg.contains("\nd\n") && !svg.contains("the same for all"));
}

#[test]
fn callouts_of_a_narrow_ride_end_above_its_pictures_however_many_parts_are_over_their_limits() {
    let mut hot = record(&NAMES[..1]);
    for setting in &mut hot.runs[0].settings {
        let limits = ["lining_most", "bushing_warning", "washer_oiled", "spring_most"];
        if limits.iter().any(|limit| setting.path == format!("limits.{limit}")) {
            setting.value = 280.0;
        }
    }
    let look = Look { size: Size { width: 480, height: 600 }, ..Look::default() };
    let svg = Figure::Ride.draw(&hot, &look).expect("it draws").svg;
    let height = |words: &str| {
        let end = svg.find(&format!("\n{words}")).unwrap_or_else(|| panic!("{words}"));
        let tag = &svg[svg[..end].rfind("<text").expect("a text")..end];
        tag.split_once(" y=\"").expect("a height").1.split('"').next().expect("ends").parse::<f64>().expect("a number")
    };
    assert!(svg.matches("\nlimit ").count() >= 4, "lining, bushing, washer and springs");
    assert!(height("Oil in the bushing's pores") + 80.0 < height("1\n"), "they run over the first picture");
}
