//! Pieces of a block that recur, level by level: hires in a day, days in a season. A cut through the tree of the block is chosen that
//! leaves the fewest segments to be simulated; what recurs inside a simulated piece is cut again.

mod cut;
mod tree;

use crate::duty::{End, Segment};
use cut::{Kind, chosen, closing, cut, simulated};
use std::ops::Range;
use tree::Tree;
/// Fewest times that a piece has to recur inside another: the first and the last of them are mostly simulated, so that fewer gain little
/// and make the pieces around them differ more from each other.
const INSIDE: usize = 8;
/// Assumed duration of a segment without one, s.
const BRIEF: f64 = 15.0;

/// Some segments in a row.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(super) struct Piece {
    /// indices of its segments, from the start of its level on
    pub segments: Range<usize>,
    /// the kind, if it recurs
    pub kind: Option<usize>,
}

/// The pieces of the block, or of a piece.
#[derive(Debug)]
pub(super) struct Level {
    /// in order
    pub pieces: Vec<Piece>,
    /// number of those that recur
    pub recurring: usize,
    /// for each piece, whether it is the last of its kind here
    pub last: Vec<bool>,
    /// for each piece, whether settings change before the next of its kind
    pub closing: Vec<bool>,
}

/// All levels.
#[derive(Debug)]
pub(super) struct Levels {
    /// the block first
    pub levels: Vec<Level>,
    /// for each kind, the level of the pieces inside it
    pub inside: Vec<Option<usize>>,
}

/// Shortest likely duration of a block, s.
fn length(block: &[Segment]) -> f64 {
    let each = block.iter().map(|segment| match segment {
        Segment::Ride(_, End::After(time)) => *time,
        Segment::Ride(..) => BRIEF,
        Segment::Service(_) => 0.0,
    });
    each.sum()
}

impl Level {
    fn new(block: &[Segment], pieces: Vec<Piece>) -> Self {
        let last = |(k, piece): (usize, &Piece)| pieces[k + 1..].iter().all(|other| other.kind != piece.kind);
        Self {
            recurring: pieces.iter().filter(|piece| piece.kind.is_some()).count(),
            last: pieces.iter().enumerate().map(last).collect(),
            closing: closing(block, &pieces),
            pieces,
        }
    }

    /// Whether enough recurs for pieces to be foretold inside a simulated one.
    fn repeats(&self) -> bool {
        let often = |kind| self.pieces.iter().filter(|piece| piece.kind == kind).count() >= INSIDE;
        self.pieces.iter().any(|piece| piece.kind.is_some() && often(piece.kind))
    }
}

impl Levels {
    /// Levels of a block that is repeated for this time, s; the whole block is the only piece if nothing in it recurs more often. The
    /// author may have stated passes that repeat each other (`Tree::of`).
    pub fn of(block: &[Segment], stated: &[Range<usize>], time: f64) -> Self {
        let mut tree = Tree::default();
        let root = tree.of(block, stated);
        let blocks = (time / length(block).max(1e-3)).ceil().max(1.0);
        let mut kinds: Vec<Kind> = vec![];
        let mut pieces = cut(&tree, block, &chosen(&tree, root, blocks, true), (root, blocks), &mut kinds);
        if kinds.is_empty() {
            kinds.push(Kind { node: root, after: vec![], start: 0, times: blocks });
            pieces = vec![Piece { segments: 0..block.len(), kind: Some(0) }];
        }
        let mut all = Self { levels: vec![Level::new(block, pieces)], inside: vec![] };
        while let Some(kind) = kinds.get(all.inside.len()) {
            let (node, start, times) = (kind.node, kind.start, simulated(kind.times));
            let known = kinds.len();
            let within = &block[start..start + tree.nodes[node].segments];
            let pieces = cut(&tree, within, &chosen(&tree, node, times, false), (node, times), &mut kinds);
            let level = Level::new(within, pieces);
            if level.repeats() {
                kinds[known..].iter_mut().for_each(|kind| kind.start += start);
                all.levels.push(level);
                all.inside.push(Some(all.levels.len() - 1));
            } else {
                kinds.truncate(known);
                all.inside.push(None);
            }
        }
        all
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::duty::{Service, Task};

    const DAY: f64 = 86400.0;

    fn hire() -> Vec<Segment> {
        let ride = |task, end| Segment::Ride(task, end);
        let lap = [
            ride(Task::Idle, End::After(20.0)),
            ride(Task::Throttle(1.0), End::Reached { speed: 6.0, within: 60.0 }),
            ride(Task::Hold(6.0), End::After(240.0)),
            ride(Task::Brake(2.0), End::Still { within: 60.0 }),
        ];
        [&lap[..], &lap[..], &[ride(Task::Off, End::After(840.0))]].concat()
    }

    fn rest(time: f64) -> Segment {
        Segment::Ride(Task::Off, End::After(time))
    }

    fn air(temperature: f64) -> Segment {
        Segment::Service(Service::Adjust(&crate::parts::settings::surroundings::ambient, temperature))
    }

    /// Weeks of five days of twelve hires, with the temperature of each month.
    fn season(weeks: usize) -> Vec<Segment> {
        let day = [vec![hire(); 12].concat(), vec![rest(0.75 * DAY)]].concat();
        let week = |k: usize| [vec![air(283.0 + (k / 4) as f64)], vec![day.clone(); 5].concat(), vec![rest(2.0 * DAY)]];
        (0..weeks).flat_map(|k| week(k).concat()).collect()
    }

    #[test]
    fn a_season_with_weather_is_cut_into_its_days() {
        let block = season(28);
        let all = Levels::of(&block, &[], 200.0 * DAY);
        let made = &all.levels[0].pieces;
        let days: Vec<&Piece> = made.iter().filter(|piece| piece.kind.is_some()).collect();
        assert_eq!(days.len(), 140);
        assert!(days.iter().all(|day| day.segments.len() == 12 * 9 + 1));
        assert!(days.iter().all(|day| day.kind == Some(0)));
        assert_eq!(all.levels[0].closing.iter().filter(|closes| **closes).count(), 7);
        // Every segment is in one piece, in order.
        let mut at = 0;
        for piece in made {
            assert_eq!(piece.segments.start, at);
            at = piece.segments.end;
        }
        assert_eq!(at, block.len());
        // A simulated day is cut into its hires.
        let inside: Vec<Option<usize>> = all.levels[1].pieces.iter().map(|piece| piece.kind).collect();
        assert_eq!((all.inside, inside), (vec![Some(1), None], [vec![Some(1); 12], vec![None]].concat()));
    }

    #[test]
    fn a_block_that_recurs_often_is_one_piece_and_four_weekends_with_oil_are_four() {
        let weekend = [vec![rest(6.0 * DAY)], hire(), vec![rest(0.9 * DAY)], hire()].concat();
        let one = Levels::of(&weekend, &[], 3.0 * 365.0 * DAY);
        assert_eq!(one.levels[0].pieces, [Piece { segments: 0..weekend.len(), kind: Some(0) }]);
        let oil = Segment::Service(Service::Oil { drops: 3.0, oil: crate::parts::Oil::default() });
        let four = [vec![weekend.clone(); 4].concat(), vec![oil]].concat();
        let kinds: Vec<Option<usize>> =
            Levels::of(&four, &[], 3.0 * 365.0 * DAY).levels[0].pieces.iter().map(|piece| piece.kind).collect();
        assert_eq!(kinds, [Some(0), Some(1), Some(1), Some(1), None]);
    }

    #[test]
    fn passes_that_the_author_states_are_found_however_long_they_are_and_change_nothing_else() {
        // Seventy entries that all differ: more than is sought.
        let tour: Vec<Segment> =
            (1..=70).map(|k| Segment::Ride(Task::Hold(f64::from(k) / 10.0), End::After(60.0))).collect();
        let day = [vec![tour.clone(); 10].concat(), vec![rest(0.5 * DAY)]].concat();
        let block = vec![day.clone(); 140].concat();
        let passes = |k: usize| {
            let (start, length) = (k * day.len(), tour.len());
            let tours = (0..10).map(move |n| start + n * length..start + (n + 1) * length);
            std::iter::once(start..start + day.len()).chain(tours)
        };
        let stated: Vec<Range<usize>> = (0..140).flat_map(passes).collect();
        let kinds = |levels: &Levels| levels.levels[0].pieces.iter().map(|piece| piece.kind).collect::<Vec<_>>();
        assert_eq!(kinds(&Levels::of(&block, &[], 100.0 * DAY)), [Some(0)]);
        let found = Levels::of(&block, &stated, 100.0 * DAY);
        assert_eq!(kinds(&found), [Some(0); 140]);
        assert_eq!((found.levels[1].recurring, found.inside), (10, vec![Some(1), None]));
        // What is found anyway is found alike.
        let season = season(4);
        let weeks: Vec<Range<usize>> = (0..4).map(|k| k * season.len() / 4..(k + 1) * season.len() / 4).collect();
        let [with, without] = [&weeks[..], &[]].map(|stated| Levels::of(&season, stated, 200.0 * DAY));
        assert_eq!((with.levels[0].pieces.len(), with.inside), (without.levels[0].pieces.len(), without.inside));
    }

    #[test]
    fn a_block_in_which_nothing_recurs_stays_whole() {
        let block: Vec<Segment> =
            (1..400).map(|k| Segment::Ride(Task::Idle, End::After(f64::from(k)))).chain([rest(1.0)]).collect();
        assert_eq!(Levels::of(&block, &[], 1e5).levels[0].pieces, [Piece { segments: 0..400, kind: Some(0) }]);
    }
}
