//! A block of nine floors and 84 flats, measured by two surveyors in turn.

use sillbook::schema::Column;
use sillbook::schema::openings::*;
use sillbook::survey::{DepthTo, Draw, Floor, Kind, Leaf, Slab, Substrate};

use super::chance::Chance;
use super::plans::{CORNER, ONE_BEDROOM, Plan, PlanOpening, Readings, STUDIO, Side, TWO_BEDROOM, Wall};
use super::row::Row;
use super::tape::{Hand, Marks};

/// Floors of the block.
const FLOORS: u64 = 9;
/// Up to this floor the walls are concrete, and their recesses deeper; above they are framed.
const CONCRETE_TO: u64 = 2;
const CONCRETE_DEEPER: Marks = Marks::inches(1, 0);
/// One layer of wallboard where two or steel studs are.
const BOARD: Marks = Marks::inches(0, 10);
/// From one stud to the next.
const STUDS_APART: Marks = Marks::inches(16, 0);

/// The flats of the ground floor, beside the entrance.
const GROUND_FLOOR: [&Plan; 4] = [&CORNER, &ONE_BEDROOM, &ONE_BEDROOM, &STUDIO];
/// The flats of every other floor, by door.
const UPPER_FLOOR: [&Plan; 10] = [
    &CORNER,
    &ONE_BEDROOM,
    &STUDIO,
    &ONE_BEDROOM,
    &TWO_BEDROOM,
    &TWO_BEDROOM,
    &ONE_BEDROOM,
    &STUDIO,
    &ONE_BEDROOM,
    &CORNER,
];

/// Where in the block an opening is, and who measured it.
struct Spot {
    floor: u64,
    door: u64,
    hand: Hand,
}

impl Spot {
    fn is_concrete(&self) -> bool {
        self.floor <= CONCRETE_TO
    }
}

/// Every opening of a block, floor by floor. Blocks of different numbers have the same plans and
/// other readings.
pub fn rows(block: u64) -> Vec<Row> {
    let mut rows = Vec::new();
    for floor in 1..=FLOORS {
        let flats: &[&Plan] = if floor == 1 { &GROUND_FLOOR } else { &UPPER_FLOOR };
        for (door, plan) in (1..).zip(flats) {
            for (position, opening) in (0..).zip(plan.openings) {
                let mut chance = Chance::at(&[block, floor, door, position]);
                let spot = Spot { floor, door, hand: hand_of(floor, &mut chance) };
                rows.push(row(opening, &spot, &mut chance));
            }
        }
    }
    rows
}

/// One surveyor types decimals on the odd floors; the other writes fractions, and now and then
/// feet and inches, on the even ones.
fn hand_of(floor: u64, chance: &mut Chance) -> Hand {
    if floor % 2 == 1 {
        Hand::Decimals
    } else {
        chance.pick(&[
            Hand::Fractions,
            Hand::Fractions,
            Hand::Fractions,
            Hand::Fractions,
            Hand::Hyphened,
            Hand::FeetAndInches,
        ])
    }
}

fn row(opening: &PlanOpening, spot: &Spot, chance: &mut Chance) -> Row {
    let mut row = Row::of(&OPENINGS);
    let handed = spot.door.is_multiple_of(2);
    place(&mut row, opening, spot);
    sizes(&mut row, opening, spot, chance);
    recess(&mut row, opening, spot);
    walls(&mut row, opening, spot, handed);
    floor_and_head(&mut row, opening, spot, chance);
    behind(&mut row, opening, spot, chance);
    wishes(&mut row, opening, handed);
    escape(&mut row, opening, spot);
    row
}

fn place(row: &mut Row, opening: &PlanOpening, spot: &Spot) {
    row.set(&OPENING, opening.mark);
    row.set(&FLOOR, spot.floor as f64);
    row.set(&UNIT, format!("{:02}{:02}", spot.floor, spot.door));
    row.set(&ROOM, opening.room);
    row.set(&KIND, opening.kind.word());
    row.set_frame(format!("{}-{}", if opening.kind == Kind::Window { "FW" } else { "FD" }, opening.mark));
}

/// Most frames are built to the drawings, some an eighth or a quarter of an inch off; and where a
/// frame is out of true, some of three readings are less than the others.
fn sizes(row: &mut Row, opening: &PlanOpening, spot: &Spot, chance: &mut Chance) {
    let width = opening.width + Marks::sixteenths(chance.pick(&[0, 0, 0, 0, 0, 0, 0, 2, -2, 4]));
    let height = opening.height + Marks::sixteenths(chance.pick(&[0, 0, 0, 0, 0, 0, 0, -2]));
    match opening.readings {
        Readings::Once => {
            row.set(&WIDTH, spot.hand.write(width));
            row.set(&HEIGHT, spot.hand.write(height));
        }
        Readings::Thrice => {
            let out_of_true: &[i32] =
                if opening.kind == Kind::Window { &[0, 0, 0, 1, 2] } else { &[0, 0, 0, 1, 2, 4] };
            for (size, columns) in [
                (width, [&WIDTH_TOP, &WIDTH_MIDDLE, &WIDTH_BOTTOM]),
                (height, [&HEIGHT_LEFT, &HEIGHT_MIDDLE, &HEIGHT_RIGHT]),
            ] {
                let less = chance.pick(out_of_true);
                for column in columns {
                    let reading = size - Marks::sixteenths(chance.pick(&[0, 0, less]));
                    row.set(column, spot.hand.write(reading_of(reading, spot.hand)));
                }
            }
            if spot.door % 3 == 1 {
                let diagonal = Marks::diagonal(width, height);
                row.set(&DIAGONAL_1, spot.hand.write(diagonal));
                let off = Marks::sixteenths(chance.pick(&[-2, 0, 1, 2]));
                row.set(&DIAGONAL_2, spot.hand.write(diagonal + off));
            }
        }
    }
}

/// Who types decimals reads the tape to an eighth.
fn reading_of(marks: Marks, hand: Hand) -> Marks {
    if hand == Hand::Decimals { marks.to_eighths() } else { marks }
}

fn recess(row: &mut Row, opening: &PlanOpening, spot: &Spot) {
    let deeper = if spot.is_concrete() { CONCRETE_DEEPER } else { Marks::ZERO };
    row.set(&RECESS_DEPTH, spot.hand.write(opening.recess + deeper));
    row.set(&DEPTH_TO, DepthTo::Frame.word());
    row.set(&HANDLE, spot.hand.write(opening.handle));
    if let Some([stands_out, width]) = opening.casing {
        row.set(&TRIM, spot.hand.write(stands_out));
        row.set(&CASING_WIDTH, spot.hand.write(width));
    }
}

fn walls(row: &mut Row, opening: &PlanOpening, spot: &Spot, handed: bool) {
    let (left, right) = if handed { (opening.right, opening.left) } else { (opening.left, opening.right) };
    let mut side = |wall: &Column, ends_at: &Column, Side { wall: free, ends_at: end }: Side| {
        row.set(wall, spot.hand.write(free));
        row.set(ends_at, end.word());
    };
    side(&WALL_LEFT, &LEFT_ENDS_AT, left);
    side(&WALL_RIGHT, &RIGHT_ENDS_AT, right);
    if let Some(above) = opening.above {
        row.set(&WALL_ABOVE, spot.hand.write(above));
    }
}

fn floor_and_head(row: &mut Row, opening: &PlanOpening, spot: &Spot, chance: &mut Chance) {
    if opening.sill > Marks::ZERO {
        let sill = opening.sill + Marks::sixteenths(chance.pick(&[-2, 0, 0, 2]));
        row.set(&SILL_HEIGHT, spot.hand.write(sill));
    }
    row.set(&FLOOR_SURFACE, opening.floor.word());
    if let Some(header) = opening.header.filter(|_| !spot.is_concrete()) {
        row.set(&HEADER_HEIGHT, spot.hand.write(header));
    }
}

/// What the surveyor found behind the wall's face.
fn behind(row: &mut Row, opening: &PlanOpening, spot: &Spot, chance: &mut Chance) {
    if spot.is_concrete() {
        row.set(&SUBSTRATE, Substrate::Concrete.word());
        row.set(&SLAB, Slab::Plain.word());
        return;
    }
    row.set(&SUBSTRATE, opening.framed_in.word());
    let mut board = |layers: i32| {
        row.set(&BOARD_LAYERS, layers);
        row.set(&BOARD_THICKNESS, spot.hand.write(BOARD));
    };
    match opening.wall {
        Wall::SteelStuds(_) => board(1),
        Wall::Blocked => board(2),
        Wall::Unknown | Wall::Stamped(_) | Wall::Studs => {}
    }
    match opening.wall {
        Wall::Unknown => {}
        Wall::Stamped(species) => row.set(&SPECIES, species.word()),
        Wall::Blocked => row.set(&BLOCKING, "yes"),
        Wall::Studs => studs(row, spot, chance),
        Wall::SteelStuds(mil) => {
            row.set(&STEEL_THICKNESS, format!("{mil} mil"));
            studs(row, spot, chance);
        }
    }
}

/// A magnet finds the screws of the board, and so the studs.
fn studs(row: &mut Row, spot: &Spot, chance: &mut Chance) {
    row.set(&STUD_SPACING, spot.hand.write(STUDS_APART));
    let first = chance.pick(&[(6, 0), (6, 8), (7, 4), (8, 0), (9, 8)]);
    row.set(&FIRST_STUD, spot.hand.write(Marks::inches(first.0, first.1)));
}

fn wishes(row: &mut Row, opening: &PlanOpening, handed: bool) {
    row.set(&MOUNT, opening.mount.word());
    let leaf = match opening.leaf {
        Leaf::Left if handed => Leaf::Right,
        Leaf::Right if handed => Leaf::Left,
        leaf => leaf,
    };
    row.set(&OPENING_LEAF, leaf.word());
    row.set(&OPENS, opening.opens.word());
    if let Some(draw) = opening.draw {
        let draw = match draw {
            Draw::Left if handed => Draw::Right,
            Draw::Right if handed => Draw::Left,
            draw => draw,
        };
        row.set(&DRAW, draw.word());
    }
    if let Some(product) = opening.product {
        row.set(&PRODUCT, product);
    }
    if opening.floor == Floor::Carpet {
        row.set(&COLOR, "cream");
    }
}

fn escape(row: &mut Row, opening: &PlanOpening, spot: &Spot) {
    let Some([width, height]) = opening.escape else { return };
    row.set(&ESCAPE, "yes");
    row.set(&ESCAPE_CLEAR_WIDTH, spot.hand.write(width));
    row.set(&ESCAPE_CLEAR_HEIGHT, spot.hand.write(height));
}
