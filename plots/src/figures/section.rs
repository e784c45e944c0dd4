//! Half-section of a clutch from its settings, to scale, with assumptions where there is no setting.
//!
//! Assumed: web as thick as the band's wall; sprocket 5 mm thick, its rim a third of a pitch over the pitch circle; hub
//! wall, cover and the spaces between parts some millimetres; shoes as high below their centre of gravity as above it.

use slipsoak_engine::names::Channel;
use slipsoak_engine::parts::settings::{bushing, clutch, cover, drum, lining, washer};
use slipsoak_engine::record::Run;

/// A point of the section: along the shaft from the motor's face, and from the shaft's axis, m.
pub type Point = (f64, f64);

/// A part of the section.
pub struct Piece {
    /// its name in the figure
    pub name: &'static str,
    /// channel of its temperature; none for parts outside the model
    pub channel: Option<Channel>,
    pub outline: Vec<Point>,
    /// start of its leader
    pub anchor: Point,
    pub side: Side,
}

/// Side of a part's label.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Side {
    Above,
    Right,
    Below,
    Nowhere,
}

/// Name of each part, channel of its temperature, and side of its label.
const PARTS: [(&str, Option<Channel>, Side); 11] = [
    ("motor block", Some(Channel::Block), Side::Below),
    ("shaft", Some(Channel::Shaft), Side::Below),
    ("carrier", Some(Channel::Carrier), Side::Below),
    ("shoe", Some(Channel::Shoes), Side::Above),
    ("lining", Some(Channel::LiningSurface), Side::Above),
    ("drum rim", Some(Channel::Band), Side::Above),
    ("web", Some(Channel::Web), Side::Right),
    ("sprocket", Some(Channel::Sprocket), Side::Right),
    ("bushing", Some(Channel::Bushing), Side::Right),
    ("washer", Some(Channel::Washer), Side::Right),
    ("cover", None, Side::Nowhere),
];

/// A place where heat passes from one part to another, and the direction from the first to the second.
#[derive(Clone, Copy)]
pub struct Joint {
    pub at: Point,
    pub towards: Point,
}

/// A clutch cut open.
pub struct Section {
    pub pieces: Vec<Piece>,
    /// drum rim and web, web and sprocket, sprocket and bushing, shoe and carrier, carrier and shaft, shaft and motor block,
    /// bushing and shaft, drum rim and shoe
    pub joints: [Joint; 8],
    /// strip within the bushing that shows its oil: lower left and upper right corner
    pub oil: (Point, Point),
    /// from the motor's broken face to the shaft's end, m
    pub span: (f64, f64),
    /// outside of the drum, m
    pub radius: f64,
}

/// Changing state of a section: whether the shoes are out, and the wear of lining and washer, m.
#[derive(Clone, Copy, Debug)]
pub struct State {
    pub out: bool,
    pub lining_wear: f64,
    pub washer_wear: f64,
}

const MM: f64 = 1e-3;
/// Assumed sizes, m.
const BLOCK: f64 = 8.0 * MM;
const SPACE: f64 = 4.0 * MM;
const SPROCKET: f64 = 5.0 * MM;
const HUB: f64 = 4.0 * MM;
const COVER: f64 = 2.0 * MM;

fn rectangle((x0, r0): Point, (x1, r1): Point) -> Vec<Point> {
    vec![(x0, r0), (x1, r0), (x1, r1), (x0, r1)]
}

fn centre((x0, r0): Point, (x1, r1): Point) -> Point {
    (0.5 * (x0 + x1), 0.5 * (r0 + r1))
}

impl Section {
    /// The section of a run's machine; none if the record lacks a size.
    pub fn of(run: &Run, state: State) -> Option<Self> {
        let size = |path| run.setting(path).filter(|v| v.is_finite() && *v >= 0.0 && *v < 1e4);
        let (radius, wall, band) = (size(&drum::radius)?, size(&drum::wall)?, size(&drum::band)?);
        let (thick, wide, travel) = (size(&lining::thickness)?, size(&lining::width)?, size(&clutch::gap)?);
        let (bore, outside, length) =
            (0.5 * size(&bushing::bore)?, 0.5 * size(&bushing::outside)?, size(&bushing::length)?);
        let (washer_in, washer_out) = (0.5 * size(&washer::inside)?, 0.5 * size(&washer::outside)?);
        let washer = (size(&washer::thickness)? - state.washer_wear).max(0.0);
        let worn = state.lining_wear.clamp(0.0, thick);
        let (proud, pitch) = (size(&cover::proud)?, size(&drum::pitch)?);
        let teeth = pitch / (2.0 * (std::f64::consts::PI / size(&drum::teeth)?.max(3.0)).sin());

        // Along the shaft: motor, carrier and drum, web, sprocket, the bushing's proud end, washer, cover.
        let web = SPACE + band;
        let sprocket = web + wall + SPACE;
        let face = sprocket + SPROCKET;
        let (bushing_start, bushing_end) = (face + proud - length, face + proud);
        let cover = bushing_end + washer;
        let end = cover + COVER + SPACE;
        let lining_start = SPACE + 0.5 * (band - wide);
        let lining_end = lining_start + wide;

        // Radially: shoes and lining at their present position.
        let shift = if state.out { worn } else { -travel };
        let back = radius - thick + shift;
        let low = (2.0 * size(&clutch::shoe_radius)? - (radius - thick)).max(outside + HUB) + shift;
        let arm = (low.min(back) - 1.5 * MM - travel.max(shift)).max(bore + MM);
        let hub_end = (bushing_start - 1.5 * MM).clamp(SPACE + MM, lining_end.max(SPACE + MM));
        let step = (outside + 1.8 * HUB).min(arm);

        let block = 0.62 * radius;
        let rim = teeth + pitch / 3.0;
        let lining = back + thick - worn;
        let carrier =
            [(SPACE, bore), (hub_end, bore), (hub_end, step), (lining_end, step), (lining_end, arm), (SPACE, arm)];
        let hub = outside + HUB;
        let chain = web - SPACE;
        let wheel = [(chain, outside), (face, outside), (face, rim), (sprocket, rim), (sprocket, hub), (chain, hub)];
        // Outline of each part, and the start of its leader.
        let shapes: [(Vec<Point>, Point); PARTS.len()] = [
            (rectangle((-BLOCK, 0.0), (0.0, block)), (-0.5 * BLOCK, 0.25 * block)),
            (rectangle((0.0, 0.0), (end, bore)), (0.72 * end, 0.4 * bore)),
            (carrier.to_vec(), (0.5 * (SPACE + hub_end), 0.5 * (bore + step))),
            (rectangle((lining_start, low), (lining_end, back)), (lining_start + 0.18 * wide, 0.5 * (low + back))),
            (rectangle((lining_start, back), (lining_end, lining)), (lining_start + 0.55 * wide, back + 0.5 * thick)),
            (rectangle((SPACE, radius), (web, radius + wall)), (SPACE + 0.9 * band, radius + 0.5 * wall)),
            (rectangle((web, hub), (web + wall, radius + wall)), (web + 0.5 * wall, 0.72 * radius)),
            (wheel.to_vec(), centre((sprocket, hub), (face, rim))),
            (
                rectangle((bushing_start, bore), (bushing_end, outside)),
                (bushing_end - 0.04 * length, bore + 0.8 * (outside - bore)),
            ),
            (
                rectangle((bushing_end, washer_in), (cover, washer_out)),
                (bushing_end + 0.5 * washer, washer_in + 0.3 * (washer_out - washer_in)),
            ),
            (rectangle((cover, bore), (cover + COVER, rim + 2.0 * HUB)), centre((cover, bore), (cover + COVER, rim))),
        ];
        let piece = |((name, channel, side), (outline, anchor))| Piece { name, channel, outline, anchor, side };
        let mut pieces: Vec<Piece> = PARTS.into_iter().zip(shapes).map(piece).collect();
        // Machines with contradictory sizes are kept within the outline.
        for point in pieces.iter_mut().flat_map(|piece| piece.outline.iter_mut().chain([&mut piece.anchor])) {
            *point = (point.0.clamp(-BLOCK, end), point.1.clamp(0.0, radius + wall));
        }
        let strip = |share: f64| bore + share * (outside - bore);
        let (inwards, to_motor) = ((0.0, -1.0), (-1.0, 0.0));
        let joints = [
            Joint { at: (web, radius + 0.5 * wall), towards: (1.0, 0.0) },
            Joint { at: (web + 0.5 * wall, hub), towards: inwards },
            Joint { at: (0.5 * (chain.max(bushing_start) + face.min(bushing_end)), outside), towards: inwards },
            Joint { at: (lining_start + 0.5 * wide, 0.5 * (low + arm)), towards: inwards },
            Joint { at: (0.5 * (SPACE + hub_end), bore), towards: inwards },
            Joint { at: (0.0, 0.5 * bore), towards: to_motor },
            Joint { at: (bushing_start + 0.2 * length, bore), towards: inwards },
            Joint { at: (lining_start + 0.85 * wide, radius), towards: inwards },
        ];
        Some(Self {
            pieces,
            joints,
            oil: ((bushing_start + 0.04 * length, strip(0.3)), (bushing_end - 0.04 * length, strip(0.7))),
            span: (-BLOCK, end),
            radius: radius + wall,
        })
    }
}
