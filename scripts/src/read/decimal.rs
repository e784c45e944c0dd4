//! Numbers of a table, with a decimal point or a decimal comma, each taken only where it can mean one number.

/// How a number is written.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
enum Written {
    /// digits alone, or with an exponent
    Plain,
    /// with a decimal point, or comma
    Decimal(char),
    /// one sign before three digits: a decimal sign, or one between thousands
    Either(char),
}

/// What the numbers of one table show of its decimal sign.
#[derive(Clone, Debug, Default)]
pub(crate) struct Decimals {
    /// a cell that certainly has a decimal point
    point: Option<String>,
    /// a cell that certainly has a decimal comma
    comma: Option<String>,
}

impl Decimals {
    /// Evidence of the cells. Between semicolons a comma is a decimal sign: for its sake such tables are not separated by commas.
    pub fn of<'a>(cells: impl Iterator<Item = &'a str>, semicolons: bool) -> Self {
        let mut found = Self::default();
        for cell in cells {
            match written(cell) {
                Some(Written::Decimal('.')) if found.point.is_none() => found.point = Some(cell.to_owned()),
                Some(Written::Decimal(',')) if found.comma.is_none() => found.comma = Some(cell.to_owned()),
                Some(Written::Either(',')) if semicolons && found.comma.is_none() => {
                    found.comma = Some(cell.to_owned());
                }
                _ => {}
            }
        }
        found
    }

    /// The number of a cell, or what to write in its place.
    pub fn number(&self, cell: &str) -> Result<f64, String> {
        let point = || cell.replacen(',', ".", 1);
        let whole = || cell.replacen(['.', ','], "", 1);
        let text = match written(cell) {
            Some(Written::Plain | Written::Decimal('.')) => cell.to_owned(),
            Some(Written::Decimal(_)) => point(),
            Some(Written::Either('.')) => match &self.comma {
                None => cell.to_owned(),
                Some(other) => {
                    return Err(format!(
                        "`{cell}` may be {cell} or {}, since `{other}` has a decimal comma; write the one that is meant, with nothing between thousands",
                        whole()
                    ));
                }
            },
            Some(Written::Either(_)) if self.comma.is_some() && self.point.is_none() => point(),
            Some(Written::Either(_)) => {
                return Err(format!(
                    "`{cell}` may be {} or {}; write the one that is meant, with a decimal point and nothing between thousands",
                    point(),
                    whole()
                ));
            }
            None => return Err(unread(cell)),
        };
        text.parse::<f64>().ok().filter(|value| value.is_finite()).ok_or_else(|| unread(cell))
    }
}

/// How a cell is written; none if it is no number.
fn written(cell: &str) -> Option<Written> {
    let digits = |text: &str| !text.is_empty() && text.bytes().all(|b| b.is_ascii_digit());
    let body = cell.strip_prefix(['-', '+']).unwrap_or(cell);
    let (body, exponent) = body.split_once(['e', 'E']).map_or((body, None), |(body, exponent)| (body, Some(exponent)));
    if exponent.is_some_and(|exponent| !digits(exponent.strip_prefix(['-', '+']).unwrap_or(exponent))) {
        return None;
    }
    let Some(at) = body.find(['.', ',']) else { return digits(body).then_some(Written::Plain) };
    let (whole, part) = (&body[..at], &body[at + 1..]);
    let sign = if body.as_bytes()[at] == b',' { ',' } else { '.' };
    if !(digits(whole) && (digits(part) || part.is_empty()) || whole.is_empty() && digits(part)) {
        return None;
    }
    let thousands = exponent.is_none() && part.len() == 3 && whole.len() <= 3 && !whole.starts_with('0');
    Some(if thousands && !whole.is_empty() { Written::Either(sign) } else { Written::Decimal(sign) })
}

/// What to do about a cell that is no number.
fn unread(cell: &str) -> String {
    // Digits in groups of three.
    let groups = |mark: &[char]| {
        let (whole, part) = cell.rsplit_once(['.', ',']).filter(|(_, part)| part.len() != 3).unwrap_or((cell, ""));
        let mut all = whole.split(mark);
        let first = all.next().is_some_and(|g| (1..=3).contains(&g.len()));
        let grouped = first && whole.contains(mark) && all.clone().all(|g| g.len() == 3);
        let number = whole.replace(mark, "") + if part.is_empty() { "" } else { "." } + part;
        number.parse::<f64>().ok().filter(|_| grouped).map(|_| number)
    };
    let marks: [&[char]; 3] = [&[','], &['.'], &[' ', '\u{a0}', '\u{202f}', '\'', '’']];
    match marks.into_iter().find_map(groups) {
        Some(plain) => format!("`{cell}` has signs between thousands; write {plain}"),
        None => format!(
            "`{cell}` is not a number; write it with a decimal point and without its unit, or leave the field blank"
        ),
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_number_is_taken_where_its_decimal_sign_can_mean_one_thing() {
        let none = Decimals::default();
        let comma = Decimals::of(["0,76", "1200"].into_iter(), false);
        let point = Decimals::of(["18.5"].into_iter(), false);
        let weights = Decimals::of(["615,930", "615,827"].into_iter(), true);
        let both = Decimals::of(["615,930", "18.5"].into_iter(), true);
        for (given, cell, value) in [
            (&none, "12", 12.0),
            (&none, "1.234", 1.234),
            (&none, "0,762", 0.762),
            (&none, "-,5", -0.5),
            (&comma, "1,524", 1.524),
            (&comma, "18.5", 18.5),
            (&weights, "615,930", 615.93),
            (&point, "1.234", 1.234),
            (&point, "1,5e3", 1500.0),
        ] {
            assert_eq!(given.number(cell), Ok(value), "{cell}");
        }
        for (given, cell, said) in [
            (&none, "1,234", "`1,234` may be 1.234 or 1234; write the one"),
            (&point, "1,234", "may be 1.234 or 1234"),
            (&both, "615,930", "may be 615.930 or 615930"),
            (&weights, "1.234", "may be 1.234 or 1234, since `615,930` has a decimal comma"),
            (&comma, "1.234", "may be 1.234 or 1234, since `0,76` has a decimal comma"),
            (&none, "1,234,567", "between thousands; write 1234567"),
            (&none, "1.234,5", "between thousands; write 1234.5"),
            (&none, "1,234.56", "between thousands; write 1234.56"),
            (&none, "12 345", "write 12345"),
            (&none, "1'234.5", "write 1234.5"),
            (&none, "fast", "`fast` is not a number"),
            (&none, "NaN", "is not a number"),
            (&none, "1e999", "is not a number"),
            (&none, "1e", "is not a number"),
            (&none, "", "is not a number"),
        ] {
            let refused = given.number(cell).expect_err(cell);
            assert!(refused.contains(said), "{cell}: {refused}");
        }
    }
}
