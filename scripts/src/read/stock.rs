//! A shop's stock of springs, read from JSON.

use crate::read::quantity::read;
use crate::read::refusal::Refusal;
use crate::read::units::{between, show};
use serde::de::{Error, Visitor};
use serde::{Deserialize, Deserializer};
use slipsoak_engine::parts::{Dimension, Parameter, settings};
use slipsoak_engine::spring_choice::Spring;
use std::collections::BTreeSet;
use std::fmt;

/// Largest number of springs of a stock.
const MOST: usize = 200;

/// What a file of another form should be.
const FORM: &str = "a stock is {\"springs\": [{\"name\": \"1900 rpm\", \"engagement\": \"1900 rpm\"}, …]}, see `slipsoak schema stock`";

/// A stock of springs for one clutch.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Stock {
    /// description of the stock
    #[serde(default)]
    pub about: String,
    /// the springs
    pub springs: Vec<Item>,
}

/// One spring.
#[derive(Clone, Debug, Deserialize)]
#[serde(deny_unknown_fields)]
pub struct Item {
    /// name
    pub name: String,
    /// engagement speed when new and at 20 °C, for example "1900 rpm"
    #[serde(deserialize_with = "engagement")]
    pub engagement: f64,
    /// spring rate per shoe, for example "10 N/mm"; default: that of the machine
    #[serde(default, deserialize_with = "rate")]
    pub rate: Option<f64>,
}

/// A quantity in quotes, for one setting of a machine and in its range.
struct Quantity(&'static Parameter);

impl Visitor<'_> for Quantity {
    type Value = f64;

    fn expecting(&self, f: &mut fmt::Formatter) -> fmt::Result {
        let example = if self.0 == &settings::clutch::engagement { "1900 rpm" } else { "10 N/mm" };
        write!(f, "a quantity in quotes with its unit, such as \"{example}\"")
    }

    fn visit_str<E: Error>(self, text: &str) -> Result<f64, E> {
        let p = self.0;
        let value = read(text, p.dimension).map_err(E::custom)?;
        if value >= p.least && value <= p.most {
            return Ok(value);
        }
        let [least, most] = between((p.least, p.most), p.dimension);
        Err(E::custom(format!("{text} must lie between {least} and {most}")))
    }
}

fn engagement<'de, D: Deserializer<'de>>(from: D) -> Result<f64, D::Error> {
    from.deserialize_str(Quantity(&settings::clutch::engagement))
}

fn rate<'de, D: Deserializer<'de>>(from: D) -> Result<Option<f64>, D::Error> {
    from.deserialize_str(Quantity(&settings::clutch::spring_rate)).map(Some)
}

impl Stock {
    /// Reads a stock; `file` is its name for messages.
    pub fn read(file: &str, text: &str) -> Result<Vec<Spring>, Refusal> {
        let stock: Self = serde_json::from_str(text).map_err(|e| Refusal::json(file, &e, FORM))?;
        let wrong = |why: String| Err(Refusal::new(format!("{file}: {why}")));
        if stock.springs.is_empty() || stock.springs.len() > MOST {
            return wrong(format!("a stock of {} springs; it must hold between 1 and {MOST}", stock.springs.len()));
        }
        let mut names = BTreeSet::new();
        if let Some(twice) = stock.springs.iter().find(|s| s.name.trim().is_empty() || !names.insert(s.name.as_str())) {
            let speed = show(twice.engagement, Dimension::AngularSpeed);
            return wrong(format!(
                "the name `{}` of the spring of {speed} is empty or used twice; give each its own",
                twice.name
            ));
        }
        let spring = |item: Item| Spring { name: item.name, engagement: item.engagement, rate: item.rate };
        Ok(stock.springs.into_iter().map(spring).collect())
    }
}

/// The shipped stock: invented, 1600 to 3000 rpm in steps of 100.
pub fn shipped() -> Result<Vec<Spring>, Refusal> {
    Stock::read("springs.json", include_str!("../../parts/springs.json"))
}
