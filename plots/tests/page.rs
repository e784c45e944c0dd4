//! A page is valid, complete without a network, readable in light and dark, and escapes its texts.

use crate::html::faults;
use slipsoak_plots::Drawing;
use slipsoak_plots::page::{Block, Cell, Group, Head, Page, Picture, Row, Section, Table};
use slipsoak_plots::words::text::Words;

const NASTY: &str = "<script>alert(1)</script>";

fn drawing() -> Drawing {
    let svg = "<svg role=\"img\" width=\"400\" height=\"200\" viewBox=\"0 0 400 200\" xmlns=\"http://www.w3.org/2000/svg\">\n\
               <title>A line</title>\n<desc>Upward: &lt;use&gt; &amp; wear.</desc>\
               <clipPath id=\"frame\"><rect x=\"0\" y=\"0\" width=\"9\" height=\"9\"/></clipPath>\
               <g clip-path=\"url(#frame)\"><text x=\"10\" y=\"20\">use</text></g></svg>";
    Drawing::of(svg)
}

fn page() -> Page {
    let row = |k: usize, name: &str| Row {
        cells: vec![name.into(), Cell::Temperature(373.15), Cell::Bar("12.0".into(), 0.4), Cell::Nothing],
        of: Some(k),
    };
    let heads = vec![
        Head::words("machine"),
        Head::temperature("peak"),
        Head::of("life", "h"),
        Head { of: Some(1), ..Head::of("n", "") },
    ];
    let table = Table {
        groups: vec![
            Group { name: NASTY.into(), rows: vec![row(0, NASTY)] },
            Group { name: String::new(), rows: vec![row(1, "a & b \" c")] },
        ],
        ..Table::grouped(Words::from("Peaks of ").strong(NASTY), heads, vec![])
    };
    let blocks = vec![
        Block::Words(Words::from("It comes to ").temperature(260.15).plain(NASTY)),
        Block::List(vec![NASTY.into(), "two".into()]),
        Block::Picture(Picture::new("curve", drawing())),
        Block::Picture(Picture::new("curve", drawing())),
        Block::Table(table.clone().note(NASTY)),
        Block::Table(table),
        Block::Code { caption: NASTY.into(), text: format!("// {NASTY}\nlet a = 1 < 2 && true;\n") },
    ];
    Page {
        question: format!("What of {NASTY}?"),
        origin: NASTY.into(),
        answer: vec![Words::from("It is ").strong(NASTY)],
        compared: vec![NASTY.into(), "b".into()],
        colours: vec![],
        sections: vec![Section::new(NASTY, blocks), Section::new("Last", vec![Block::Words("The end.".into())])],
        given: NASTY.into(),
        sure: vec![NASTY.into()],
    }
}

#[test]
fn a_page_of_every_kind_of_block_is_valid() {
    let none: [String; 0] = [];
    assert_eq!(faults(&page().html()), none);
    let odd = "a\u{0}b\u{7}c\r\nd\u{ffff}e";
    assert_eq!(faults(&Page { question: odd.into(), origin: odd.into(), ..Page::default() }.html()), none);
}

#[test]
fn text_from_a_script_is_escaped() {
    let html = page().html();
    assert!(!html.contains("<script"), "a name became an element");
    assert!(html.matches("&lt;script&gt;alert(1)&lt;/script&gt;").count() > 10);
    assert!(html.contains("let a = 1 &lt; 2 &amp;&amp; true;\n") && html.contains("a &amp; b &quot; c"));
    assert!(html.contains("Upward: &lt;use&gt; &amp; wear."), "the caption is the drawing's description");
    // If an element got through nevertheless, the policy would prevent its execution.
    assert!(html.contains("content=\"default-src 'none'; style-src 'unsafe-inline'\""));
}

#[test]
fn identifiers_of_two_drawings_on_a_page_differ() {
    let html = page().html();
    for k in [1, 2] {
        for name in [format!("<clipPath id=\"figure-{k}-frame\""), format!("clip-path=\"url(#figure-{k}-frame)\"")] {
            assert_eq!(html.matches(&name).count(), 1, "{name}");
        }
    }
}

#[test]
fn both_scales_stand_in_the_page_and_the_switch_hides_one() {
    let html = page().html();
    // 260.15 K = −13 °C = 8.6 °F, 373.15 K = 100 °C = 212 °F.
    for words in [">−13\u{a0}°C</span>", ">9\u{a0}°F</span>", ">100</span>", ">212</span>", ">°C</span>", ">°F</span>"]
    {
        assert!(html.contains(words), "{words}");
    }
    for rule in ["#scale-celsius:checked", "#scale-fahrenheit:checked", "#show-1:not(:checked)) .of-1"] {
        assert!(html.contains(rule), "{rule}");
    }
    assert_eq!(
        html.matches(" checked").count(),
        1 + 1 + 2,
        "one scale, what is printed and both boxes are chosen at first"
    );
}

#[test]
fn the_checks_of_a_page_find_every_fault() {
    let good = page().html();
    for (from, to, fault) in [
        ("</h1>", "", "parser"),
        ("<main>", "<main><p><div></p>", "parser"),
        ("<html lang=\"en\">", "<html>", "no language"),
        ("<title>What", "<title></title><b>What", "parser"),
        ("name=\"viewport\"", "name=\"view\"", "no viewport"),
        ("<a class=\"skip\" href=\"#answer\">", "<b></b><a href=\"#answer\">", "skip link"),
        ("<h2 id=\"section-1-heading\"", "<h4 id=\"section-1-heading\"", "parser"),
        ("<h2 id=\"answer-heading\">The answer</h2>", "<h3 id=\"answer-heading\">The answer</h3>", "skips a level"),
        ("id=\"section-2\"", "id=\"section-1\"", "stands twice"),
        ("href=\"#section-2\"", "href=\"#section-3\"", "not there"),
        ("href=\"#section-2\"", "href=\"page.html\"", "leads out"),
        (" download=\"curve.svg\"", "", "leads out"),
        ("</main>", "<img src=\"a.png\" alt=\"a\"></main>", "fetches something"),
        ("</main>", "<script>1</script></main>", "there is a <script>"),
        ("<main>", "<main onclick=\"go()\">", "event's script"),
        ("* { box-sizing", "@import 'a.css'; * { box-sizing", "fetches something"),
        ("role=\"img\"", "role=\"none\"", "role of an image"),
        ("<desc", "<metadata", "parser"),
        ("aria-describedby=\"figure-1-about\"", "", "without a text"),
        ("<figcaption id", "<figcaption></figcaption><figcaption id", "without a caption"),
        ("scope=\"col\"", "", "without its scope"),
        ("<legend>Shown in tables and figures</legend>", "", "without a legend"),
        ("<td class=\"number\">", "<td></td><td class=\"number\">", "cells"),
    ] {
        let broken = good.replacen(from, to, 1);
        assert_ne!(broken, good, "{from} is not in the page");
        let found = faults(&broken);
        assert!(found.iter().any(|f| f.contains(fault)), "{from} → {to}: {found:?}");
    }
}

/// Contrast of two colours, 1 to 21: (L1 + 0.05)/(L2 + 0.05) with relative luminance L of sRGB (WCAG 2.2, definitions).
fn contrast(a: [f64; 3], b: [f64; 3]) -> f64 {
    let light = |c: [f64; 3]| {
        let linear = c.map(|s| if s <= 0.04045 { s / 12.92 } else { ((s + 0.055) / 1.055_f64).powf(2.4) });
        0.2126 * linear[0] + 0.7152 * linear[1] + 0.0722 * linear[2]
    };
    let (a, b) = (light(a), light(b));
    (a.max(b) + 0.05) / (a.min(b) + 0.05)
}

/// The colour of a name in the k-th theme of the style sheet: 0 light, 1 dark.
fn colour(style: &str, theme: usize, name: &str) -> [f64; 3] {
    let block = style.split(":root {").nth(theme + 1).expect("a theme");
    let hex = block.split(&format!("--{name}: #")).nth(1).expect(name);
    [0, 2, 4].map(|at| f64::from(u8::from_str_radix(&hex[at..at + 2], 16).expect("a colour")) / 255.0)
}

#[test]
fn text_stands_out_in_light_and_dark() {
    // Black on white is 21, by definition; #767676 on white is the lightest grey that reaches 4.5 (WCAG's techniques, from memory).
    assert!((contrast([0.0; 3], [1.0; 3]) - 21.0).abs() < 1e-9);
    let grey = |v: u8| contrast([f64::from(v) / 255.0; 3], [1.0; 3]);
    assert!(grey(0x76) >= 4.5 && grey(0x77) < 4.5);
    let style = page().html();
    for theme in 0..2 {
        for ground in ["paper", "faint"] {
            for text in ["ink", "quiet", "mark", "link"] {
                let ratio = contrast(colour(&style, theme, text), colour(&style, theme, ground));
                assert!(ratio >= 4.5, "{text} on {ground} of theme {theme}: {ratio:.2}");
            }
        }
    }
}
