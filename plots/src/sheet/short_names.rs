//! Texts and names shortened to the room that they have.

use crate::sheet::draw_error::DrawError;
use crate::sheet::lettering::{Type, inseparable, plain, width_of};
use crate::sheet::scales;

/// A text shortened at its end with an ellipsis to a maximum width, px.
pub fn fit(words: &str, set: Type, width: f64) -> Result<String, DrawError> {
    shortened(words, set, width, |_| 0)
}

/// A name shortened in its middle to a maximum width, px: names of one study may begin alike and differ at their ends. It is cut
/// between words where its first and its last words have room beside each other.
pub fn fit_name(words: &str, set: Type, width: f64) -> Result<String, DrawError> {
    cut_name(words, (set, width), &|_| false)
}

/// Names that stand beside each other, each shortened to its maximum width, px. Of those that are, the numbers stay in which they
/// differ.
pub fn fit_names(names: &[(&str, Type, f64)]) -> Result<Vec<String>, DrawError> {
    let mut long = vec![];
    for (name, set, width) in names {
        if width_of(name, *set)? > *width {
            long.push(inseparable(&scales::shown(&plain(name))));
        }
    }
    let differs = |word: &String| is_number(word) && !long.iter().all(|words| words.contains(word));
    names.iter().map(|(name, set, width)| cut_name(name, (*set, *width), &differs)).collect()
}

fn is_number(word: &str) -> bool {
    word.contains(|c: char| c.is_ascii_digit())
}

/// A name shortened to a maximum width, px, without the words in its middle but for those that are to stay, where they have room.
fn cut_name(words: &str, (set, width): (Type, f64), stays: &dyn Fn(&String) -> bool) -> Result<String, DrawError> {
    let letters = shortened(words, set, width, |letters| letters * 2 / 5)?;
    if width_of(words, set)? <= width {
        return Ok(letters);
    }
    let shown = scales::shown(&plain(words));
    let parts = inseparable(&shown);
    // As many first words as stand whole before the cut between letters, and as many last ones as then have room.
    let before = letters.chars().position(|c| c == '…').unwrap_or_default();
    let first = (1..parts.len()).take_while(|start| parts[..*start].join(" ").chars().count() <= before).count();
    let widest = |stays: &dyn Fn(&String) -> bool| {
        for start in (1..=first).rev() {
            for end in start + 1..parts.len() {
                let tried = without_middle(&parts, (start, end), stays);
                if width_of(&tried, set)? <= width {
                    return Ok::<_, DrawError>(Some(tried));
                }
            }
        }
        Ok(None)
    };
    let best = if parts.iter().any(stays) { widest(stays)? } else { None };
    let best = if best.is_none() { widest(&|_| false)? } else { best };
    // Long words leave little of a name that is cut between them.
    let enough = |cut: &String| 2 * cut.chars().count() > letters.chars().count();
    if let Some(best) = best.filter(enough) {
        return Ok(best);
    }
    // A last number stands whole, with its sign.
    let Some(last) = parts.last().filter(|last| is_number(last)) else {
        return Ok(letters);
    };
    let head: Vec<char> = shown.chars().take(before).collect();
    for kept in (1..=head.len()).rev() {
        let tried = format!("{}… {last}", head[..kept].iter().collect::<String>().trim_end());
        if width_of(&tried, set)? <= width {
            return Ok(tried);
        }
    }
    Ok(letters)
}

/// Words without those of the middle, from one place to another, that are not to stay.
fn without_middle(words: &[String], (start, end): (usize, usize), stays: &dyn Fn(&String) -> bool) -> String {
    let kept = |k: &usize| *k < start || *k >= end || stays(&words[*k]);
    let mut text = String::new();
    let mut next = 0;
    for k in (0..words.len()).filter(kept) {
        if k > next {
            text.truncate(text.trim_end_matches([',', ';', ':']).len());
            text += " …";
        }
        text += if k == 0 { "" } else { " " };
        text += &words[k];
        next = k + 1;
    }
    text
}

/// A text shortened to a maximum width, px, of whose letters that are left this many are its last.
fn shortened(words: &str, set: Type, width: f64, last: fn(usize) -> usize) -> Result<String, DrawError> {
    let whole: String = plain(words).chars().take(400).collect();
    if width_of(&whole, set)? <= width {
        return Ok(whole);
    }
    let letters: Vec<char> = scales::shown(&whole).chars().collect();
    let cut = |left: usize| -> String {
        let (start, end) = (&letters[..left - last(left)], &letters[letters.len() - last(left)..]);
        let [start, end]: [String; 2] = [start, end].map(|part| part.iter().collect());
        format!("{}…{}", start.trim_end(), end.trim_start())
    };
    let (mut fits, mut long) = (0, letters.len());
    while long - fits > 1 {
        let half = usize::midpoint(fits, long);
        if width_of(&cut(half), set)? <= width { fits = half } else { long = half }
    }
    Ok(cut(fits))
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn shortened_names_that_differ_at_their_ends_still_differ() {
        let names = ["vehicle mass 430 kg, gear ratio 10", "vehicle mass 430 kg, gear ratio 8.5"];
        let short = names.map(|name| fit_name(name, Type::LABEL, 150.0).expect("a name"));
        assert!(short[0] != short[1] && short.iter().all(|name| name.contains('…')), "{short:?}");
        assert!(short.iter().all(|name| width_of(name, Type::LABEL).expect("a width") <= 150.0), "{short:?}");
    }

    #[test]
    fn names_are_cut_between_words_where_these_have_room() {
        let name = "vehicle mass 430 kg, gear ratio 10";
        let cut = |width| fit_name(name, Type::LABEL, width).expect("a name");
        for width in 120..200 {
            let short = cut(f64::from(width));
            assert!(width_of(&short, Type::LABEL).expect("a width") <= f64::from(width), "{short}");
            let (head, tail) = short.split_once(" … ").expect(&short);
            assert!(name.starts_with(head) && name[head.len()..].starts_with([' ', ',']), "{short}");
            assert!(name.ends_with(&format!(" {tail}")), "{short}");
            assert!(!head.ends_with(|c: char| c.is_ascii_digit()), "a number without its unit: {short}");
        }
        for width in 85..200 {
            let cold =
                fit_name("mini bike, ambient temperature -15 °C", Type::LABEL, f64::from(width)).expect("a name");
            assert!(cold.ends_with("… -15 °C"), "{cold}");
        }
        // One long word is cut all the same.
        let long = fit_name("a_very_long_name_without_a_space_in_it", Type::LABEL, 120.0).expect("a name");
        assert!(long.contains('…') && long.chars().count() > 8, "{long}");
    }

    #[test]
    fn names_shortened_side_by_side_keep_the_numbers_in_which_they_differ() {
        let duties = ["between the trees in the morning", "on the lanes in the afternoon"];
        let names: Vec<String> = (15..30)
            .flat_map(|k| duties.map(|duty| format!("a spring with a long descriptive name, {k}00 rpm, {duty}")))
            .collect();
        for width in [200.0, 250.0, 300.0] {
            let sets: Vec<(&str, Type, f64)> = names.iter().map(|name| (name.as_str(), Type::LABEL, width)).collect();
            let mut short = fit_names(&sets).expect("names");
            for (name, short) in names.iter().zip(&short) {
                let speed = name.split(", ").nth(1).expect("a speed");
                assert!(short.contains(speed) && short.contains('…'), "{name}: {short}");
                assert!(width_of(short, Type::LABEL).expect("a width") <= width, "{short}");
            }
            short.sort_unstable();
            short.dedup();
            assert_eq!(short.len(), names.len(), "{width}: {short:?}");
        }
        // A number that all have is cut like a word; one that has room is left as it is.
        let of = |names: [&str; 3]| fit_names(&names.map(|name| (name, Type::LABEL, 160.0))).expect("names");
        assert_eq!(
            of(["vehicle mass 430 kg, gear ratio 10", "vehicle mass 430 kg, gear ratio 8.5", "due at 70 %"]),
            ["vehicle mass … 10", "vehicle mass … 8.5", "due at 70 %"]
        );
    }
}
