//! What the screws of each bracket go into: the wood of a header, a stud or blocking behind board, steel,
//! a casing, a lintel, or the board alone.
//!
//! Board that nobody measured is one layer of 1/2 in on a stud wall and on drywall. Under a header behind board the thicker of the
//! two counts, the header's offset or the board that is given. Drywall with a known header, blocking or
//! known studs is taken as a stud wall is, with a check whether the studs are of wood. Where a header over
//! a recess is said to start further up than board is thick, what is below it counts as board: no screw is
//! said to hold in wood that it does not reach. Of a header over a recess no more is wood than it is high.

use super::Wanted;
use crate::fitting::queries::FittingQuery;
use crate::length::Length;
use crate::query::Held;
use crate::rules::{CoverRules, Fixing, Rules};
use crate::sizing::{Face, Hung, is_over_recess, rail_tops};
use crate::survey::{Facts, Slab, Studs, Substrate};
use crate::worked::Record;

/// One layer of wallboard (ASTM C1396, from memory).
const BOARD: Length = Length::sixty_fourths(32);
/// So many diameters of a screw must be in the wood, its tip included (ANSI/AWC NDS-2018, Table 12L).
const DIAMETERS_IN_WOOD: i64 = 6;
/// A screw that goes deeper into a stud may meet a cable in it (NFPA 70, 300.4(A)(1)).
const CABLE_DEPTH: Length = Length::sixty_fourths(80);

/// What is behind the brackets of one blind.
pub(super) enum Behind {
    /// The same behind all of them.
    Alike(Ground),
    /// Studs, and what is between them.
    Studs { studs: Studs, on_stud: Ground, between: Ground },
}

/// What a screw goes into.
#[derive(Clone, Copy, Debug)]
pub(super) struct Ground {
    /// Whose fixings go into it.
    pub(super) substrate: Substrate,
    /// Whether nothing but board is there.
    pub(super) is_hollow: bool,
    board: Length,
    /// How far its wood goes up, if that is known.
    wood: Option<Length>,
    casing: Option<Casing>,
    /// Whether a cable may lie in it.
    may_hold_cables: bool,
}

/// A casing that the brackets are on.
#[derive(Clone, Copy, Debug)]
struct Casing {
    thickness: Length,
    /// Whether it is thin or of unknown thickness: only nailed.
    is_thin: bool,
    /// Board between it and the header that both screws lie in, if they do.
    board_to_header: Option<Length>,
}

/// Whether a fixing goes in, and how much of its thread.
pub(super) enum Goes {
    /// It does; the thread that counts, if it is known.
    In(Option<Length>),
    /// It is too short.
    TooShort,
}

/// What is behind the brackets; `None` if nobody said.
pub(super) fn find<'r>(wanted: &Wanted<'_, 'r>, record: &mut Record<'r>) -> Result<Option<Behind>, Held> {
    check_slab(wanted, record)?;
    let facts = wanted.facts;
    check_studs(facts, record);
    let hung = &wanted.sizing.hung;
    if let Hung::Outside(wall) = hung
        && let Face::Casing { stands_out } = wall.face
    {
        return Ok(Some(Behind::Alike(on_casing(wanted, stands_out))));
    }
    let Some(substrate) = facts.substrate else { return Ok(None) };
    let behind = match hung {
        Hung::Outside(_) => on_wall(wanted, substrate.value, record),
        Hung::Inside(_) | Hung::Ceiling(_) => Behind::Alike(overhead(wanted, substrate.value, record)),
    };
    Ok(Some(behind))
}

impl Ground {
    fn of(substrate: Substrate) -> Ground {
        Ground {
            substrate,
            is_hollow: false,
            board: Length::ZERO,
            wood: None,
            casing: None,
            may_hold_cables: false,
        }
    }

    fn wood_behind(board: Length) -> Ground {
        Ground { board, may_hold_cables: true, ..Ground::of(Substrate::Wood) }
    }

    /// Whether a listed fixing goes into it, and how.
    pub(super) fn takes(&self, fixing: &Fixing, cover: &CoverRules) -> Goes {
        let plate = *cover.bracket_plate;
        let Some(length) = fixing.length else { return Goes::In(None) };
        if let Some(casing) = self.casing {
            let into_header =
                |board| casing.thickness + (length - plate - casing.thickness - board).max(Length::ZERO);
            let within = casing.board_to_header.map_or(casing.thickness.min(length - plate), into_header);
            let thread = fixing.thread.filter(|_| !casing.is_thin).map(|thread| thread.min(within));
            return Goes::In(thread);
        }
        let beyond = length - plate - self.board;
        let beyond = self.wood.map_or(beyond, |wood| beyond.min(wood));
        let needed = match self.substrate {
            Substrate::Wood => fixing.diameter.map(|diameter| diameter * DIAMETERS_IN_WOOD),
            Substrate::Steel => Some(*cover.steel_beyond),
            _ => None,
        };
        if needed.is_some_and(|needed| beyond < needed) {
            return Goes::TooShort;
        }
        Goes::In(fixing.thread.map(|thread| thread.min(beyond)))
    }

    /// The shortest screw of these that would go in.
    pub(super) fn length_wanted(&self, rules: &Rules, cover: &CoverRules) -> Option<Length> {
        let listed = rules.fixings.iter().filter(|fixing| fixing.substrate == self.substrate);
        let beyond = match self.substrate {
            Substrate::Wood => listed.filter_map(|fixing| fixing.diameter).min()? * DIAMETERS_IN_WOOD,
            _ => *cover.steel_beyond,
        };
        Some(*cover.bracket_plate + self.board + beyond)
    }

    /// Whether a fixing goes so deep that it may meet a cable.
    pub(super) fn may_meet_cable(&self, fixing: &Fixing, cover: &CoverRules) -> bool {
        let deep = |length: Length| length - *cover.bracket_plate - self.board > CABLE_DEPTH;
        self.may_hold_cables && fixing.length.is_some_and(deep)
    }

    /// Whether a casing holds that is not known to be thick enough for its screws.
    pub(super) fn is_thin_casing(&self) -> bool {
        self.casing.is_some_and(|casing| casing.is_thin)
    }
}

fn on_casing(wanted: &Wanted<'_, '_>, stands_out: Length) -> Ground {
    let is_lintel = wanted.facts.substrate.is_some_and(|substrate| substrate.value.is_hard());
    let usual = usual_board(wanted.facts);
    let board_to_header = (in_header(wanted) && !is_lintel).then(|| board(wanted.facts, usual));
    let is_thin = stands_out < *wanted.cover.casing_thickness;
    let casing = Some(Casing { thickness: stands_out, is_thin, board_to_header });
    Ground { casing, ..Ground::of(Substrate::Wood) }
}

fn on_wall(wanted: &Wanted<'_, '_>, substrate: Substrate, record: &mut Record<'_>) -> Behind {
    let facts = wanted.facts;
    let at = facts.substrate.map(|substrate| substrate.at);
    let alike = Behind::Alike;
    let anchor = Ground { is_hollow: true, ..Ground::of(Substrate::Drywall) };
    let board = board(facts, usual_board(facts));
    let wood = Ground::wood_behind(board);
    // Studs are given from the opening's edge: where that is unknown, so are they.
    let studs = facts.studs().filter(|_| wanted.overlaps.is_some());
    match substrate {
        Substrate::Wood => alike(Ground { board, ..Ground::of(Substrate::Wood) }),
        Substrate::Masonry | Substrate::Concrete if in_header(wanted) => {
            record.ask(&FittingQuery::Lintel, facts.header_height.map(|header| header.at), "");
            alike(Ground::of(Substrate::Concrete))
        }
        Substrate::Masonry | Substrate::Concrete => alike(Ground::of(substrate)),
        Substrate::StudWall | Substrate::Drywall | Substrate::Steel
            if in_header(wanted) || facts.has_blocking() =>
        {
            alike(wood)
        }
        Substrate::StudWall | Substrate::Drywall => match studs {
            Some(studs) => {
                if substrate == Substrate::Drywall {
                    record.ask(&FittingQuery::WoodOrSteel, at, "");
                }
                Behind::Studs { studs, on_stud: wood, between: anchor }
            }
            None => {
                record.ask(&FittingQuery::BoardAlone, at, "");
                alike(anchor)
            }
        },
        Substrate::Steel => {
            let steel = Ground { board, ..Ground::of(Substrate::Steel) };
            match studs {
                Some(studs) => Behind::Studs { studs, on_stud: steel, between: anchor },
                None => {
                    record.ask(&FittingQuery::SteelUnknown, at, "");
                    alike(steel)
                }
            }
        }
    }
}

/// Up into the head of a recess, or into a ceiling. The head of an opening is framed right behind its
/// board, where no anchor could open.
fn overhead(wanted: &Wanted<'_, '_>, substrate: Substrate, record: &mut Record<'_>) -> Ground {
    let (facts, cover) = (wanted.facts, wanted.cover);
    let at = facts.substrate.map(|substrate| substrate.at);
    let is_ceiling = matches!(wanted.sizing.hung, Hung::Ceiling(_));
    let offset = facts.header_offset_or_zero();
    let header_behind = !is_ceiling && is_over_recess(facts, cover);
    let through = if header_behind && offset > Length::ZERO {
        board(facts, Length::ZERO).max(offset)
    } else {
        board(facts, usual_board(facts))
    };
    let wood = facts.header_height.map(|header| header.value).filter(|_| header_behind);
    match substrate {
        Substrate::Wood => Ground { board: through, ..Ground::of(Substrate::Wood) },
        Substrate::Masonry | Substrate::Concrete if header_behind => {
            record.ask(&FittingQuery::Lintel, facts.header_height.map(|header| header.at), "");
            Ground::of(Substrate::Concrete)
        }
        Substrate::Masonry | Substrate::Concrete => Ground::of(substrate),
        Substrate::Steel if header_behind => Ground { wood, ..Ground::wood_behind(through) },
        Substrate::Steel => {
            record.ask(&FittingQuery::SteelUnknown, at, "");
            Ground { board: through, ..Ground::of(Substrate::Steel) }
        }
        Substrate::StudWall | Substrate::Drywall => {
            if is_ceiling {
                record.ask(&FittingQuery::JoistsUnknown, at, "");
            }
            if substrate == Substrate::Drywall && !header_behind {
                record.ask(&FittingQuery::WoodOrSteel, at, "");
            } else if !header_behind && !is_ceiling {
                match facts.header_height.filter(|header| header.value == Length::ZERO) {
                    Some(none) => record.ask(&FittingQuery::NoHeader, Some(none.at), ""),
                    None => record.ask(&FittingQuery::ProbeHead, at, ""),
                }
            }
            // A header that starts further up is all the wood that is known: what is below it counts as board.
            let is_deep = !is_ceiling && facts.has_header() && !header_behind;
            let through = if is_deep { through.max(offset) } else { through };
            if through > *cover.board_most && !is_ceiling {
                let query = FittingQuery::ThickBoard { most: record.shown(*cover.board_most) };
                let at = facts.board_thickness.map(|board| board.at);
                record.ask(&query, at, record.shown(through).to_string());
            }
            Ground { wood, ..Ground::wood_behind(through) }
        }
    }
}

/// What a blank means.
fn usual_board(facts: &Facts) -> Length {
    match facts.substrate.map(|substrate| substrate.value) {
        Some(Substrate::StudWall | Substrate::Drywall) => BOARD,
        _ => Length::ZERO,
    }
}

/// All layers of the board; what is not said of one that is said at all is usual.
fn board(facts: &Facts, usual: Length) -> Length {
    let layers = facts.board_layers.map(|layers| i64::from(layers.value));
    let thickness = facts.board_thickness.map(|thickness| thickness.value);
    match (layers, thickness) {
        (None, None) => usual,
        (layers, thickness) => thickness.unwrap_or(BOARD) * layers.unwrap_or(1),
    }
}

/// Whether both screws of a wall bracket lie well inside a header that was measured.
fn in_header(wanted: &Wanted<'_, '_>) -> bool {
    let rail_top = wanted.heights.above_head.map(|above| above.drop_top);
    let inside = rail_tops(wanted.facts, wanted.cover).zip(rail_top);
    inside.is_some_and(|((lowest, highest), rail_top)| (lowest..=highest).contains(&rail_top))
}

/// Concrete overhead may hold tendons: one that is cut can kill.
fn check_slab<'r>(wanted: &Wanted<'_, 'r>, record: &mut Record<'r>) -> Result<(), Held> {
    let facts = wanted.facts;
    let concrete = facts.substrate.map(|substrate| substrate.value);
    let may_be_slab = match wanted.sizing.hung {
        Hung::Outside(_) => return Ok(()),
        Hung::Inside(_) => match concrete {
            Some(Substrate::Concrete) => true,
            // A lintel has a check of its own; a slab is only where someone names one.
            Some(Substrate::Masonry) => facts.slab.is_some() && facts.has_header(),
            None => facts.slab.is_some(),
            _ => return Ok(()),
        },
        Hung::Ceiling(_) => true,
    };
    match facts.slab {
        Some(slab) if slab.value == Slab::Tensioned => {
            Err(record.hold(&FittingQuery::SlabTensioned, Some(slab.at), ""))
        }
        None if may_be_slab => {
            record.ask(&FittingQuery::SlabUnknown, facts.substrate.map(|substrate| substrate.at), "");
            Ok(())
        }
        Some(_) | None => Ok(()),
    }
}

/// Asks about studs that are half known, or that no wall has: they are not used.
fn check_studs(facts: &Facts, record: &mut Record<'_>) {
    match (facts.stud_spacing, facts.first_stud, facts.studs()) {
        (_, _, Some(_)) | (None, None, None) => {}
        (Some(spacing), Some(_), None) => record.ask(&FittingQuery::StudSpacing, Some(spacing.at), ""),
        (spacing, first, None) => {
            let at = spacing.or(first).map(|given| given.at);
            record.ask(&FittingQuery::StudsHalfKnown, at, "");
        }
    }
}
