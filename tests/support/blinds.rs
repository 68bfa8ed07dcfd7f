//! A block of openings with blinds already decided, by literals: what order, hardware and cost are
//! tested on. A `Spec` is one row; its defaults are round numbers, so that sums can be checked by hand.

use std::str::FromStr;
use std::sync::Arc;

use rust_decimal::Decimal;
use sillbook::blinds::{
    CutPart, HEADRAIL, LOUVER, Louvers, Panel, Returns, Spares, Stack, TILT_ROD, VALANCE_FRONT,
    VALANCE_RETURN, Ware,
};
use sillbook::fitting::{Blind, Brackets, ControlSide, Fitted, Fixings, Screws, Sides};
use sillbook::length::{Length, Unit};
use sillbook::place::{CellRef, SheetId, Sheets};
use sillbook::rules::{self, Bar, Family, LouverRules, RuleUsed, Rules, SmallPart};
use sillbook::sizing::{
    Face, Hung, InRecess, Mount, OnWall, Operation, Release, Size, SizeWindow, Sizing, UnderCeiling,
};
use sillbook::sourcing::{Sourced, Supply};
use sillbook::survey::{
    AsRead, Blanks, Control, Draw, EndsAt, Facts, Given, Identity, Kind, Measured, Opening, Reading,
    SizeSource, Substrate, Survey,
};

/// One row of the block, and the blind that it gets.
#[derive(Clone, Debug)]
pub struct Spec {
    pub building: &'static str,
    pub floor: &'static str,
    pub unit: &'static str,
    pub phase: &'static str,
    pub quantity: u32,
    pub kind: Kind,
    pub source: SizeSource,
    pub substrate: Option<Substrate>,
    /// Held openings have no blind.
    pub held: bool,
    /// Position in the rules.
    pub product: usize,
    /// Position in the product.
    pub color: usize,
    pub width: Length,
    pub drop: Length,
    pub release: Release,
    /// Position in the rules, for a blind from stock.
    pub stock: Option<usize>,
    pub mount: Mount,
    pub draw: Draw,
    pub control: Control,
    pub wand: Option<Length>,
    pub louvers: u32,
    pub louver_length: Length,
    /// Position in the rules; outside only.
    pub reach: usize,
    pub brackets: usize,
    /// Position in the rules; `None` is not chosen.
    pub fixing: Option<usize>,
    pub valance: Length,
    pub return_left: Length,
    pub return_right: Length,
    pub people: u32,
}

/// A blind 2 m x 1.5 m on a wood wall, with 10 louvers and 3 brackets, in unit 0304.
impl Default for Spec {
    fn default() -> Spec {
        Spec {
            building: "",
            floor: "3",
            unit: "0304",
            phase: "",
            quantity: 1,
            kind: Kind::Window,
            source: SizeSource::Tape,
            substrate: Some(Substrate::Wood),
            held: false,
            product: 0,
            color: 0,
            width: Length::from_mm(2_000),
            drop: Length::from_mm(1_500),
            release: Release::Make,
            stock: None,
            mount: Mount::Outside,
            draw: Draw::Left,
            control: Control::Wand,
            wand: Some(Length::from_mm(900)),
            louvers: 10,
            louver_length: Length::from_mm(1_450),
            reach: 0,
            brackets: 3,
            fixing: Some(0),
            valance: Length::from_mm(2_010),
            return_left: Length::from_mm(120),
            return_right: Length::from_mm(120),
            people: 1,
        }
    }
}

/// The survey and the blinds of these rows.
pub fn block<'r>(rows: &[Spec], rules: &'r Rules) -> (Survey, Vec<Option<Blind<'r>>>) {
    let openings = rows.iter().zip(0..).map(|(row, place)| row.opening(place)).collect();
    let blinds = rows.iter().map(|row| (!row.held).then(|| row.blind(rules))).collect();
    (Survey { openings, rows: rows.len(), ..Survey::default() }, blinds)
}

impl Spec {
    fn opening(&self, place: u32) -> Opening {
        let given = |length| Given { value: length, at: cell(place + 1, 5) };
        let measured = |length| Measured::new(vec![Reading { given: given(length), spot: None }]).unwrap();
        Opening {
            who: Identity {
                written: text(&format!("W{place}")),
                name: text(&format!("W{place}")),
                survey: text("block.xlsx"),
                at: cell(place + 1, 0),
                building: text(self.building),
                floor: text(self.floor),
                unit: text(self.unit),
                room: text("living room"),
                phase: text(self.phase),
                note: text(""),
                carried: Vec::new(),
                quantity: self.quantity,
            },
            blanks: Blanks::default(),
            as_read: AsRead::default(),
            facts: Some(Box::new(Facts {
                kind: self.kind,
                width: measured(self.width),
                height: measured(self.drop),
                diagonals: None,
                source: self.source,
                source_at: None,
                recess_depth: None,
                depth_to: None,
                handle: None,
                trim: None,
                casing_width: None,
                wall_left: None,
                wall_right: None,
                wall_above: None,
                wall_below: None,
                below_stands_out: None,
                left_ends_at: EndsAt::Free,
                right_ends_at: EndsAt::Free,
                sill: None,
                head: None,
                floor: None,
                floor_to_come: None,
                header_height: None,
                header_offset: None,
                mount: None,
                drop_wanted: None,
                product: None,
                color: None,
                leaf: None,
                opens: None,
                draw: None,
                control: None,
                motor_side: None,
                cord_device: None,
                cord_height: None,
                substrate: self.substrate.map(|value| Given { value, at: cell(place + 1, 20) }),
                species: None,
                steel_thickness: None,
                board_layers: None,
                board_thickness: None,
                stud_spacing: None,
                first_stud: None,
                blocking: None,
                slab: None,
                heater_below: None,
                accessible: false,
                escape: false,
                escape_clear_width: None,
                escape_clear_height: None,
            })),
        }
    }

    fn parts(&self, rules: &LouverRules) -> Vec<CutPart> {
        let (rail, rod) = (self.width - Length::from_mm(10), self.width - Length::from_mm(25));
        let valance = [self.valance, self.return_left, self.return_right];
        parts(rules, rail, rod, (self.louvers, self.louver_length), &valance)
    }

    fn wares(&self) -> Vec<(Ware, u32)> {
        let links = self.louvers - if self.draw == Draw::Split { 2 } else { 1 };
        [
            (SmallPart::Carrier, self.louvers),
            (SmallPart::Hanger, self.louvers),
            (SmallPart::BottomWeight, self.louvers),
            (SmallPart::SpacerLink, 2 * links),
            (SmallPart::EndCap, 2),
        ]
        .map(|(part, count)| (Ware::Small(part), count))
        .into()
    }

    fn blind<'r>(&self, rules: &'r Rules) -> Blind<'r> {
        let product = &rules.products[self.product];
        let Family::Louver(louver) = &product.family;
        let cover = &product.cover;
        let size = Size { width: self.width, drop: self.drop };
        let returns = Returns { left: self.return_left, right: self.return_right };
        let (hung, sides) = match self.mount {
            Mount::Outside => {
                let (bracket, reach) = (&cover.bracket_items[self.reach], cover.reaches[self.reach]);
                let hung = Hung::Outside(OnWall { bracket, reach, face: Face::Wall, allowance: None });
                (hung, Sides::InFront { returns, see_past: None })
            }
            Mount::Inside => {
                let bracket = &cover.inside_bracket_item;
                (Hung::Inside(InRecess { bracket, rail: None, allowance: None }), Sides::Inside)
            }
            Mount::Ceiling => {
                let (bracket, from_wall) = (&cover.inside_bracket_item, Length::inches(3));
                let hung = Hung::Ceiling(UnderCeiling { bracket, from_wall, allowance: None });
                (hung, Sides::InFront { returns, see_past: None })
            }
        };
        let item = hung.bracket().clone();
        let positions = vec![Length::ZERO; self.brackets];
        Blind {
            sizing: Sizing {
                otherwise: false,
                product,
                color: product.colors[self.color].clone(),
                hung,
                release: self.release,
                operation: Operation { draw: self.draw, control: self.control },
                lean: None,
                window: SizeWindow::new(size, size, size),
            },
            sourced: Sourced {
                size,
                supply: self.stock.map_or(Supply::Made, |place| Supply::Stock(&rules.stock_sizes[place])),
                arrives: None,
                lead_days: None,
                passed_over: Vec::new(),
            },
            fitted: Fitted {
                control_side: self.wand.map(|_| match self.draw {
                    Draw::Left => ControlSide::Right,
                    Draw::Right => ControlSide::Left,
                    Draw::Split => ControlSide::Middle,
                }),
                wand: self.wand,
                cord: None,
                panel: Panel {
                    length: self.louver_length,
                    stack: Some(Stack { draw: self.draw, width: Length::from_mm(180) }),
                    louvers: Some(Louvers {
                        count: self.louvers,
                        length: self.louver_length,
                        pitch: *louver.pitch,
                    }),
                },
                clear_open: None,
                escape: None,
                brackets: Brackets {
                    item,
                    from_left: positions.clone(),
                    from_opening_left: None,
                    top_above_floor: None,
                    top_above_head: None,
                },
                fixings: Fixings {
                    most: Screws {
                        fixing: self.fixing.map(|place| &rules.fixings[place]),
                        count: u32::try_from(2 * self.brackets).unwrap(),
                    },
                    also: None,
                    hung: None,
                    pulled: None,
                    working: None,
                    hardest: None,
                },
                valance: Some(self.valance),
                clips: positions,
                overlaps: None,
                sides,
                parts: self.parts(louver).into(),
                wares: self.wares(),
                weight: money("5.5"),
                people: self.people,
                gap_below: None,
                gap_to_sill: None,
            },
        }
    }
}

/// Parts of a blind whose returns, if it has two, are as long: what cutting and cost are tested on.
pub fn parts(
    rules: &LouverRules,
    rail: Length,
    rod: Length,
    louvers: (u32, Length),
    valance: &[Length],
) -> Vec<CutPart> {
    let width = *rules.louver_width;
    let hung = CutPart {
        each: louvers.0,
        spares: Some(Spares { width, least: *rules.least_spare_louvers }),
        ..CutPart::one(LOUVER, &rules.louver_material, louvers.1 + *rules.hem)
    };
    let mut parts = vec![
        CutPart::one(HEADRAIL, &rules.rail_material, rail),
        CutPart::one(TILT_ROD, &rules.rod_material, rod),
        hung,
    ];
    let names = [VALANCE_FRONT, VALANCE_RETURN, VALANCE_RETURN].into_iter().zip(valance);
    let names = names.filter(|(_, length)| **length > Length::ZERO);
    parts.extend(names.map(|(part, length)| CutPart::one(part, &rules.valance_material, *length)));
    parts
}

/// The built-in rules in millimeters, with two colors, two fixings and one stock size.
pub fn rules() -> Rules {
    let mut rules = rules::build(&[], Unit::Millimeter).unwrap().value;
    for product in &mut rules.products {
        product.colors = vec![text("white"), text("sand")];
    }
    rules.stock_sizes.truncate(1);
    let kept = ["wood screw 8 x 1 1/2", "concrete screw 1/4 x 1 3/4"];
    rules.fixings.retain(|fixing| kept.contains(&&*fixing.item));
    rules.used.clear();
    rules
}

/// Notes that the survey gives this rule, in this cell.
pub fn given_in(rules: &mut Rules, table: &'static str, item: &str, heading: &'static str, at: CellRef) {
    rules.used.push(RuleUsed {
        table,
        item: item.to_owned(),
        rule: heading,
        value: String::new(),
        at: Some(at),
        why: String::new(),
        example: false,
    });
}

/// A cell of the survey's only sheet.
pub fn cell(row: u32, column: u16) -> CellRef {
    CellRef { sheet: sheet(), row, column }
}

fn sheet() -> SheetId {
    Sheets::default().enter("block.xlsx", "Openings").unwrap()
}

/// An exact decimal.
pub fn money(written: &str) -> Decimal {
    Decimal::from_str(written).unwrap()
}

pub fn text(written: &str) -> Arc<str> {
    Arc::from(written)
}

pub fn bar(material: &str, length_mm: i64, price: &str) -> Bar {
    Bar {
        material: text(material),
        length: Length::from_mm(length_mm),
        price: Some(money(price)),
        example: true,
        at: None,
    }
}
