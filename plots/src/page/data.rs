//! What a page gives away: its tables as CSV, its answer and tables as JSON, each inside the page as an address.

use crate::page::{Block, Cell, Page, Reach, Row, Table, Unit};
use crate::words::text::Words;
use serde_json::{Value, json};
use slipsoak_engine::units::{in_celsius, to_fahrenheit};
use std::fmt::Write as _;

/// A file as an address that holds all of it.
pub(crate) fn address(kind: &str, text: &str) -> String {
    let mut address = format!("data:{kind};charset=utf-8,");
    for c in text.chars() {
        match c {
            // XML delimits attributes by either, and has an entity for it elsewhere.
            '"' if kind.ends_with("xml") => address.push('\''),
            '%' | '#' | '"' | '<' | '>' | '&' | '\'' | '\n' => {
                let _ = write!(address, "%{:02X}", u32::from(c));
            }
            c => address.push(c),
        }
    }
    address
}

/// A text or a number of a table for a program: with a point, an ordinary minus and no spaces in it.
fn bare(shown: &str) -> String {
    let plain = shown.replace('\u{2212}', "-").replace('\u{a0}', " ");
    let number: String = plain.chars().filter(|c| *c != ' ').collect();
    if number.parse::<f64>().is_ok() { number } else { plain }
}

impl Cell {
    /// The cell for a program: of temperatures °C, then °F.
    fn values(&self, unit: &Unit) -> Vec<String> {
        let temperature = |kelvin: f64| {
            let celsius = in_celsius(kelvin);
            vec![format!("{celsius:.1}"), format!("{:.1}", to_fahrenheit(celsius))]
        };
        match self {
            Self::Temperature(kelvin) | Self::TooHot(kelvin) => temperature(*kelvin),
            Self::Words(words) => vec![bare(&words.text())],
            Self::Number(shown) | Self::Bar(shown, _) | Self::Exceeded(shown) => vec![bare(shown)],
            Self::Rounded(_, full) => vec![bare(full)],
            Self::Nothing if *unit == Unit::Temperature => vec![String::new(); 2],
            Self::Nothing => vec![String::new()],
        }
    }
}

impl Table {
    /// Heads with their units; of temperatures two.
    fn columns(&self) -> Vec<String> {
        let heads = self.heads.iter().filter(|head| head.reach.on_page());
        heads
            .flat_map(|head| match &head.unit {
                Unit::Words | Unit::One => vec![head.name.clone()],
                Unit::Of(unit) => vec![format!("{} [{unit}]", head.name)],
                Unit::Temperature => vec![format!("{} [°C]", head.name), format!("{} [°F]", head.name)],
            })
            .collect()
    }

    /// Rows as values, each with the name of its group if there are several.
    fn values(&self) -> Vec<Vec<String>> {
        let row = |row: &Row| -> Vec<String> {
            let cells = row.cells.iter().zip(&self.heads).filter(|(_, head)| head.reach.on_page());
            cells.flat_map(|(cell, head)| cell.values(&head.unit)).collect()
        };
        let grouped = self.groups.len() > 1;
        let named =
            |name: &str, values: Vec<String>| grouped.then(|| name.to_owned()).into_iter().chain(values).collect();
        self.groups.iter().flat_map(|group| group.rows.iter().map(|one| named(&group.name, row(one)))).collect()
    }

    /// All heads of the rows of [`Self::values`].
    fn heads_of_values(&self) -> Vec<String> {
        (self.groups.len() > 1).then(|| "group".to_owned()).into_iter().chain(self.columns()).collect()
    }

    /// The table as CSV (RFC 4180).
    pub(crate) fn csv(&self) -> String {
        let quoted = |value: &String| {
            if value.contains([',', '"', '\n']) { format!("\"{}\"", value.replace('"', "\"\"")) } else { value.clone() }
        };
        let line = |values: &Vec<String>| values.iter().map(quoted).collect::<Vec<_>>().join(",") + "\n";
        std::iter::once(self.heads_of_values()).chain(self.values()).map(|values| line(&values)).collect()
    }

    fn json(&self) -> Value {
        json!({ "caption": self.caption.text(), "columns": self.heads_of_values(), "rows": self.values() })
    }
}

impl Page {
    /// Question, answer and all tables as JSON.
    pub(crate) fn json(&self) -> String {
        let told = |all: &[Words]| all.iter().map(|words| words.text().replace('\u{a0}', " ")).collect::<Vec<_>>();
        let blocks = self.sections.iter().filter(|s| s.reach.on_page()).flat_map(|s| &s.blocks);
        let table = |block: &Block| if let Block::Table(table) = block { Some(table.json()) } else { None };
        let tables: Vec<Value> = blocks.filter_map(|b| b.shown(Reach::on_page)).filter_map(table).collect();
        json!({ "question": self.question, "answer": told(&self.answer), "how sure": told(&self.sure), "tables": tables })
            .to_string()
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::page::{Group, Head};

    #[test]
    fn a_table_as_csv_has_plain_numbers_both_scales_and_its_groups() {
        let heads = [Head::words("spring"), Head::temperature("lining"), Head::of("life", "h"), Head::of("loss", "mg")];
        let row = |name: &str, kelvin: f64| {
            Row::from([
                name.into(),
                Cell::TooHot(kelvin),
                Cell::Number("12\u{a0}500".to_owned()),
                Cell::Exceeded("\u{2212}3".to_owned()),
            ])
        };
        let group = |name: &str, rows| Group { name: name.to_owned(), rows };
        let mut none = row("\"soft\", used", 300.0);
        none.cells[1] = Cell::Nothing;
        let table = Table::grouped("", heads, vec![group("a", vec![row("1500 rpm", 523.15)]), group("b", vec![none])]);
        assert_eq!(
            table.csv(),
            "group,spring,lining [°C],lining [°F],life [h],loss [mg]\n\
             a,1500 rpm,250.0,482.0,12500,-3\nb,\"\"\"soft\"\", used\",,,12500,-3\n"
        );
    }

    #[test]
    fn an_address_holds_every_character_of_a_file() {
        assert_eq!(
            address("text/csv", "a,\"5 %\" #1\n<&>°"),
            "data:text/csv;charset=utf-8,a,%225 %25%22 %231%0A%3C%26%3E°"
        );
        assert_eq!(address("image/svg+xml", "<a b=\"1\"/>"), "data:image/svg+xml;charset=utf-8,%3Ca b='1'/%3E");
    }
}
