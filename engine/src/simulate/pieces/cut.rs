//! The cut through the tree of a block: which of its nodes are pieces, and of which kinds.

use super::Piece;
use super::tree::{Mark, Node, Tree, mark};
use crate::duty::{Segment, Service};
use std::collections::BTreeMap;
use std::ops::Range;

/// Fewest times that a piece has to recur before it can be skipped.
const FEWEST: f64 = 12.0;

/// Simulations of a piece before it is skipped, and the share of the others that is simulated. Measured on seasons.
const FIRST: f64 = 10.0;

const SHARE: f64 = 0.1;

/// A cut further down has to save this factor, because what is inside a piece varies more.
const DEEPER: f64 = 1.7;

/// A kind of piece. The day after an oiling is another one than the day after a day.
pub(super) struct Kind {
    pub node: usize,
    /// services since the last recurring piece
    pub after: Vec<Mark>,
    /// index of its first segment in the block, where it first stands
    pub start: usize,
    /// how often it comes in all that is simulated at its level
    pub times: f64,
}

/// How often a piece is simulated that comes this often.
pub(super) fn simulated(times: f64) -> f64 {
    times.min(FIRST + SHARE * times)
}

/// Whether each node is a piece, if the root is performed this many times; the root itself only if it is allowed to be one.
pub(super) fn chosen(tree: &Tree, root: usize, blocks: f64, itself: bool) -> Vec<bool> {
    let mut times = vec![0.0; tree.nodes.len()];
    times[root] = blocks;
    for node in (0..tree.nodes.len()).rev() {
        match &tree.nodes[node].node {
            Node::Segment => {}
            Node::Group(parts) => parts.iter().for_each(|part| times[*part] += times[node]),
            Node::Times(part, many) => times[*part] += times[node] * *many as f64,
        }
    }
    let (mut work, mut chosen) = (vec![0.0_f64; tree.nodes.len()], vec![false; tree.nodes.len()]);
    for (node, known) in tree.nodes.iter().enumerate() {
        let mut parts = tree.parts(node);
        parts.sort_unstable();
        parts.dedup();
        let below: f64 = parts.iter().map(|part| work[*part]).sum();
        let below = if parts.is_empty() { times[node] * known.work } else { below };
        let whole = simulated(times[node]) * known.work;
        chosen[node] = (itself || node != root) && times[node] >= FEWEST && known.rides >= 2 && whole <= DEEPER * below;
        work[node] = if chosen[node] { whole } else { below };
    }
    chosen
}

/// Cuts segments into the chosen nodes below a node that is performed this often, with kinds that are told apart by the services before
/// them. Those that are rare do not recur.
pub(super) fn cut(
    tree: &Tree,
    block: &[Segment],
    chosen: &[bool],
    (root, often): (usize, f64),
    kinds: &mut Vec<Kind>,
) -> Vec<Piece> {
    let mut made: Vec<(Range<usize>, Option<usize>)> = vec![];
    let (mut at, mut open) = (0, vec![root]);
    while let Some(node) = open.pop() {
        let parts = tree.parts(node);
        if !chosen[node] && !parts.is_empty() {
            open.extend(parts.into_iter().rev());
            continue;
        }
        let segments = at..at + tree.nodes[node].segments;
        at = segments.end;
        made.push((segments, chosen[node].then_some(node)));
    }
    let known = kinds.len();
    let serves =
        |segment: &&Segment| matches!(segment, Segment::Service(service) if !matches!(service, Service::Adjust(..)));
    let mut found = vec![];
    let mut after: Vec<Mark> = vec![];
    // The second pass begins after what the first leaves; what a piece that recurs leaves behind is in the state.
    for pass in 0..2 {
        for (segments, node) in &made {
            let Some(node) = *node else {
                after.extend(block[segments.clone()].iter().filter(serves).map(mark));
                continue;
            };
            let after = std::mem::take(&mut after);
            if pass == 0 {
                continue;
            }
            let alike = kinds.iter().position(|kind| kind.node == node && kind.after == after);
            found.push(alike.unwrap_or(kinds.len()));
            match alike {
                Some(kind) => kinds[kind].times += often,
                None => kinds.push(Kind { node, after, start: segments.start, times: often }),
            }
        }
    }
    let kept: Vec<bool> = kinds.iter().enumerate().map(|(k, kind)| k < known || kind.times >= FEWEST).collect();
    let renamed = |kind: usize| kept[kind].then(|| kept[..kind].iter().filter(|kept| **kept).count());
    let (mut pieces, mut found) = (Vec::<Piece>::new(), found.into_iter());
    for (segments, node) in made {
        let kind = node.and_then(|_| found.next()).and_then(renamed);
        match pieces.last_mut() {
            Some(last) if kind.is_none() && last.kind.is_none() => last.segments.end = segments.end,
            _ => pieces.push(Piece { segments, kind }),
        }
    }
    let mut kept = kept.into_iter();
    kinds.retain(|_| kept.next().unwrap_or(true));
    pieces
}

/// Whether each recurring piece is the last of its kind before the block changes its settings.
pub(super) fn closing(block: &[Segment], pieces: &[Piece]) -> Vec<bool> {
    let mut now: BTreeMap<&str, u64> = BTreeMap::new();
    let mut settings = vec![];
    // The second pass begins with what the first has set.
    for pass in 0..2 {
        for piece in pieces {
            if pass == 1 {
                settings.push(now.clone());
            }
            for segment in &block[piece.segments.clone()] {
                if let Segment::Service(Service::Adjust(setting, value)) = segment {
                    now.insert(setting.path, value.to_bits());
                }
            }
        }
    }
    let next = |k: usize| {
        let others = (k + 1..pieces.len()).chain(0..=k);
        others.into_iter().find(|other| pieces[*other].kind == pieces[k].kind).unwrap_or(k)
    };
    (0..pieces.len()).map(|k| pieces[k].kind.is_some() && settings[k] != settings[next(k)]).collect()
}
