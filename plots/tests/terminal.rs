//! A page on a terminal: lines of its width, broken only between words, without control characters.

use slipsoak_plots::page::{Block, Cell, Group, Head, Page, Reach, Row, Section, Table};
use slipsoak_plots::words::text::Words;
use unicode_width::UnicodeWidthStr;

/// Text without the codes for bold.
fn plain(text: &str) -> String {
    text.replace("\u{1b}[1m", "").replace("\u{1b}[0m", "")
}

fn table() -> Table {
    let names = ["the spring that the shop has always put in", "強い 弹簧", "1900 rpm"];
    let heads = vec![
        Head::words("machine and duty"),
        Head::temperature("lining, peak"),
        Head::of("slip energy of a launch", "kJ"),
        Head::of("life, running", "").spare(1),
        Head::words("worn out first").brief("worn out"),
        Head::of("oil fill at the end", "%").spare(3),
        Head::of("motor ran", "min").spare(2),
    ];
    let row = |(k, name): (usize, &&str)| Row {
        cells: vec![
            (*name).into(),
            Cell::Temperature(400.0 + 100.0 * k as f64),
            Cell::Number("12.5".into()),
            Cell::Bar("390\u{a0}h".into(), 0.5),
            "washer charring".into(),
            Cell::Exceeded("99.5".into()),
            Cell::Nothing,
        ],
        of: None,
    };
    Table::new("What came of it", heads, names.iter().enumerate().map(row)).note("Lives are running hours.")
}

fn page() -> Page {
    let long = "A clutch that drags can make the machine creep at idle: keep the brake on. ".repeat(3);
    Page {
        question: "Which spring for a motor that idles at 1700 rpm, and how long will it last there?".into(),
        given: "between the trees, 40 min".into(),
        origin: "orchard.rhai".into(),
        answer: vec![Words::from("It lasts ").strong("about 390\u{a0}h of running").plain(". ").plain(&*long)],
        sure: vec!["These numbers rest on assumed constants.".into()],
        sections: vec![
            Section::new(
                "Results",
                vec![
                    Block::Table(table()),
                    Block::Legend(vec![('L', Words::from("lining over ").temperature(523.15))]),
                    Block::Words("More: --details.".into()).only(Reach::Brief),
                ],
            ),
            Section::new("Cautions", vec![Block::List(vec![long.as_str().into(), "Two.".into()])]),
            Section::new("Assumed", vec![Block::Words("A guess.".into())]).only(Reach::Details),
            Section::new("Ledgers", vec![Block::Words("Closed.".into())]).only(Reach::Page),
        ],
        ..Page::default()
    }
}

/// The words of a text; conditions are in brackets if there is room.
fn words(text: &str) -> Vec<&str> {
    text.split_whitespace().map(|word| word.trim_start_matches('(').trim_end_matches(')')).collect()
}

#[test]
fn no_line_is_wider_than_the_terminal_and_no_word_is_broken() {
    let whole = plain(&page().text(1000, true));
    for width in [40, 80, 120] {
        for details in [false, true] {
            let text = plain(&page().text(width, details));
            for line in text.lines() {
                assert!(line.width() <= width, "{width}: {} columns: {line}\n{text}", line.width());
                for word in words(line).into_iter().filter(|word| !word.starts_with("--")) {
                    let known = words(&whole).contains(&word) || "More: --details. worn out".contains(word);
                    assert!(known, "“{word}” is a piece of a word at {width}:\n{text}");
                }
            }
        }
    }
}

#[test]
fn a_value_stays_with_its_unit_and_numbers_end_in_one_column() {
    let text = plain(&page().text(80, false));
    let rows = text.lines().filter(|line| line.contains("12.5"));
    let ends: Vec<usize> = rows.filter_map(|line| line.find("390 h").map(|at| line[..at].width())).collect();
    assert_eq!(ends.len(), 3, "{text}");
    assert!(ends.iter().all(|end| *end == ends[0]), "wide letters count for two columns\n{text}");
    assert!(text.contains("about 390 h of running"), "{text}");
    let at = |line: &str| line.find("°C (°F)");
    assert!(text.lines().any(|line| at(line).is_some()), "the unit stands in the head\n{text}");
}

#[test]
fn the_least_needed_columns_are_left_out_first_and_details_show_all() {
    let narrow = plain(&page().text(60, false));
    assert!(!narrow.contains("99.5") && narrow.contains("390 h") && narrow.contains("washer"), "{narrow}");
    let wide = plain(&page().text(120, false));
    assert!(wide.contains("99.5") && wide.contains('█'), "{wide}");
    for (width, details) in [(40, false), (40, true), (60, true)] {
        let full = plain(&page().text(width, details));
        for words in ["99.5", "390 h", "charring", "min"] {
            assert!(full.contains(words), "{words} at {width}\n{full}");
        }
        let rules = full.lines().filter(|line| line.starts_with("---")).count();
        assert!(rules > 1, "the columns that do not fit stand below\n{full}");
    }
}

#[test]
fn each_medium_shows_its_own_parts_and_details_show_the_rest() {
    let (brief, full, html) = (plain(&page().text(80, false)), plain(&page().text(80, true)), page().html());
    assert!(brief.starts_with("Which spring for a motor that idles at 1700 rpm"), "{brief}");
    let order = ["between the trees", "It lasts about", "1900 rpm", "L lining over 250 °C (482 °F)", "- Two."];
    let places: Vec<usize> = order.iter().map(|words| brief.find(words).expect(words)).collect();
    assert!(places.is_sorted(), "the answer comes first: {places:?}\n{brief}");
    for (words, [on_brief, on_full, on_page]) in [
        ("More: --details.", [true, false, false]),
        ("These numbers rest", [false, true, true]),
        ("A guess.", [false, true, true]),
        ("Closed.", [false, false, true]),
        ("Lives are running hours.", [true, true, true]),
        ("orchard.rhai", [false, false, true]),
        ("between the trees", [true, true, true]),
    ] {
        for (text, there) in [(&brief, on_brief), (&full, on_full), (&html, on_page)] {
            assert_eq!(text.contains(words), there, "{words} in\n{text}");
        }
    }
}

#[test]
fn control_characters_are_shown_as_visible_symbols() {
    let nasty = "a\u{1b}]52;c;x\u{7}\u{1b}[2Jb\u{9b}31m\u{202e}c\nd";
    let row = Row { cells: vec![nasty.into(), Cell::Number(nasty.into())], of: None };
    let heads = vec![Head::words(nasty), Head::of("n", nasty)];
    let page = Page {
        question: nasty.into(),
        given: nasty.into(),
        answer: vec![Words::from(nasty).strong(nasty)],
        sections: vec![Section::new(
            nasty,
            vec![
                Block::Table(Table {
                    groups: vec![Group { name: nasty.into(), rows: vec![row] }],
                    ..Table::grouped(nasty, heads, vec![])
                }),
                Block::Code { caption: nasty.into(), text: nasty.into() },
                Block::List(vec![nasty.into()]),
            ],
        )],
        ..Page::default()
    };
    let text = plain(&page.text(200, true));
    assert!(!text.contains(|c: char| c.is_control() && c != '\n' || c == '\u{202e}'), "{text:?}");
    assert!(text.contains("a␛]52;c;x␇␛[2Jb\u{fffd}31m\u{fffd}c d"), "{text}");
}

#[test]
fn a_name_longer_than_half_a_line_is_above_its_row() {
    let name = "the-spring-that-the-shop-has-always-put-in";
    let row = Row { cells: vec![name.into(), Cell::Number("12.5".into())], of: None };
    let table = Table::new("", vec![Head::words("spring"), Head::of("life", "h")], vec![row]);
    let page = Page { sections: vec![Section::new("", vec![Block::Table(table)])], ..Page::default() };
    let text = plain(&page.text(50, false));
    assert!(text.contains(&format!("\n{name}\n  12.5\n")), "{text}");
}

#[test]
fn long_tables_are_cut_without_details_and_say_so() {
    let rows = (0..100).map(|k| [format!("row-{k}").into()]);
    let table = Table { most: Some(12), ..Table::new("", vec![Head::words("name")], rows) };
    let page = Page { sections: vec![Section::new("", vec![Block::Table(table)])], ..Page::default() };
    let text = page.text(80, false);
    assert!(text.contains("row-11\n88 more rows: --details.") && !text.contains("row-12"), "{text}");
    assert!(page.text(80, true).contains("row-99"));
    let rows = (0..13).map(|k| [format!("row-{k}").into()]);
    let table = Table { most: Some(12), ..Table::new("", vec![Head::words("name")], rows) };
    let page = Page { sections: vec![Section::new("", vec![Block::Table(table)])], ..Page::default() };
    assert!(page.text(80, false).contains("1 more row: --details."));
}
