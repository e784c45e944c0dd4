//! What is said of one subject.

use slipsoak_plots::words::text::Words;

/// What is said of one subject: whole sentences, or clauses without capital and full stop.
pub struct Said {
    pub subject: &'static str,
    pub clauses: bool,
    pub texts: Vec<String>,
}

pub fn sentences(subject: &'static str, said: &[Words]) -> Said {
    Said { subject, clauses: false, texts: said.iter().map(Words::text).collect() }
}

pub fn clauses(subject: &'static str, said: &[Words]) -> Said {
    Said { subject, clauses: true, texts: said.iter().map(Words::text).collect() }
}

pub const RPM: f64 = std::f64::consts::PI / 30.0;

pub const HOUR: f64 = 3600.0;

pub fn all<T>(next: fn(Option<&T>) -> Option<T>) -> Vec<T> {
    let mut all = vec![];
    while let Some(one) = next(all.last()) {
        all.push(one);
    }
    all
}
