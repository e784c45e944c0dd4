//! Parts that would have been worn out before the season begins.

use super::amounts::hours;
use super::calendar::date;
use crate::words::say::percent;
use crate::words::text::Words;
use slipsoak_engine::names::Part;
use slipsoak_engine::season::{Season, WornBefore};

/// What is given of parts that cannot have run so long, and what to do.
pub(super) fn worn_before(season: &Season) -> Vec<Words> {
    season.worn_before.iter().map(|one| said(season, one)).collect()
}

fn said(season: &Season, one: &WornBefore) -> Words {
    let parts = match one.part {
        Part::Washer => "washers",
        Part::Lining => "linings",
        Part::Bushing => "bushings",
        _ => "springs",
    };
    let first = date(season.question.first);
    let of = if one.share > 0.995 {
        "all of the sampled carts".to_owned()
    } else {
        format!("{} of the sampled carts", percent(one.share))
    };
    Words::default().strong(format!("Check the running of the {parts}, {}", hours(one.used))).plain(format!(
        ": {of} would have worn them out before {first}. In this use new ones last about {} (half of the carts), so that the answer renews them on the first day. Give the running since they were last renewed, or renew them before the season and leave them out of `--used`.",
        hours(one.life)
    ))
}
