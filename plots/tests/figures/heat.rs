//! Where the heat goes.

use crate::made_up::record;
use slipsoak_engine::names::Entry;
use slipsoak_plots::{Figure, Size, draw};

#[test]
fn every_destination_of_the_heat_is_named_in_full_beside_other_runs() {
    let mut six = record(&["a"; 6]);
    for run in &mut six.runs {
        run.ledgers.clutch.held.insert(Entry::InShoes, 146_100.0);
        run.ledgers.clutch.outward.insert(Entry::WebAndSprocketToTheAir, 135_600.0);
    }
    for width in [960, 480] {
        let svg = draw(Figure::Heat, &six, Size { width, ..Size::default() }).expect("it draws").svg;
        assert!(svg.contains("in inner parts") && svg.contains("air: web"), "{width}");
        let cut: Vec<&str> = svg.lines().filter(|line| line.contains('…')).collect();
        assert!(cut.is_empty(), "{width}: {cut:?}");
    }
}
