//! A block of openings with blinds already decided, by literals: what order, hardware and cost are
//! tested on. A `Spec` is one row; its defaults are round numbers, so that sums can be checked by hand.

// Each file of tests uses its own part of it.
#![allow(dead_code)]

use std::str::FromStr;
use std::sync::Arc;

use rust_decimal::Decimal;
use sillbook::fitting::{Blind, Brackets, ControlSide, Fitted, Fixings, Louvers};
use sillbook::length::{Length, Units};
use sillbook::money::Currency;
use sillbook::place::{CellRef, SheetId, Sheets};
use sillbook::rules::{
    Bar, BlindPrice, Capacity, CostBasis, Family, Fixing, FloorsFinished, Jurisdiction, LouverRules,
    PartPrice, PriceList, Product, Project, Rates, RuleUsed, Rules, SizesGiven, StockSize, TaxOn,
};
use sillbook::sizing::{Mount, Release, Size, SizeWindow, Sizing};
use sillbook::sourcing::{Sourced, Supply};
use sillbook::survey::{
    Control, Draw, EndsAt, Facts, Given, Identity, Kind, Measured, Opening, Source, Substrate, Survey,
};
use sillbook::worked::Rule;

/// One row of the block, and the blind that it gets.
#[derive(Clone, Debug)]
pub struct Spec {
    pub building: &'static str,
    pub floor: &'static str,
    pub unit: &'static str,
    pub phase: &'static str,
    pub quantity: u32,
    pub kind: Kind,
    pub substrate: Option<Substrate>,
    /// Held openings have no blind.
    pub held: bool,
    /// Position in the rules.
    pub product: usize,
    /// Position in the product.
    pub colour: usize,
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

/// A blind 2 m x 1.5 m on a timber wall, with 10 louvers and 3 brackets, in unit 0304.
impl Default for Spec {
    fn default() -> Spec {
        Spec {
            building: "",
            floor: "3",
            unit: "0304",
            phase: "",
            quantity: 1,
            kind: Kind::Window,
            substrate: Some(Substrate::Timber),
            held: false,
            product: 0,
            colour: 0,
            width: Length::from_mm(2_000),
            drop: Length::from_mm(1_500),
            release: Release::Make,
            stock: None,
            mount: Mount::Outside,
            draw: Draw::Left,
            control: Control::Wand,
            wand: Some(Length::inches(36)),
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
        let measured = |length| Measured::new(vec![Given { value: length, at: cell(place + 1, 5) }]).unwrap();
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
            facts: Some(Box::new(Facts {
                kind: self.kind,
                width: measured(self.width),
                height: measured(self.drop),
                diagonals: None,
                source: Source::Tape,
                source_at: None,
                recess_depth: None,
                depth_to: None,
                handle: None,
                trim: None,
                wall_left: None,
                wall_right: None,
                wall_above: None,
                wall_below: None,
                left_ends_at: EndsAt::Free,
                right_ends_at: EndsAt::Free,
                sill: None,
                floor: None,
                floor_to_come: None,
                header_height: None,
                header_offset: None,
                mount: None,
                drop_wanted: None,
                product: None,
                colour: None,
                leaf: None,
                opens: None,
                draw: None,
                control: None,
                substrate: self.substrate.map(|value| Given { value, at: cell(place + 1, 20) }),
                accessible: false,
                escape: false,
            })),
        }
    }

    fn blind<'r>(&self, rules: &'r Rules) -> Blind<'r> {
        let product = &rules.products[self.product];
        let Family::Louver(louver) = &product.family;
        let size = Size { width: self.width, drop: self.drop };
        let (item, reach) = match self.mount {
            Mount::Outside => (&louver.bracket_items[self.reach], Some(louver.reaches[self.reach])),
            Mount::Inside => (&louver.inside_bracket_item, None),
        };
        let positions = vec![Length::ZERO; self.brackets];
        Blind {
            sizing: Sizing {
                product,
                colour: &product.colours[self.colour],
                mount: self.mount,
                release: self.release,
                window: SizeWindow::new(size, size, size),
                allowance: None,
            },
            sourced: Sourced {
                size,
                supply: self.stock.map_or(Supply::Made, |place| Supply::Stock(&rules.stock_sizes[place])),
                arrives: None,
                lead_days: None,
            },
            fitted: Fitted {
                draw: self.draw,
                control: self.control,
                control_side: self.wand.map(|_| match self.draw {
                    Draw::Left => ControlSide::Right,
                    Draw::Right => ControlSide::Left,
                    Draw::Split => ControlSide::Middle,
                }),
                wand: self.wand,
                louvers: Louvers {
                    count: self.louvers,
                    length: self.louver_length,
                    links: self.louvers - if self.draw == Draw::Split { 2 } else { 1 },
                },
                stack: Length::from_mm(180),
                clear_open: None,
                brackets: Brackets {
                    item,
                    reach,
                    setback: None,
                    from_left: positions.clone(),
                    from_opening_left: None,
                    top_above_floor: None,
                    top_above_head: None,
                },
                fixings: Fixings {
                    fixing: self.fixing.map(|place| &rules.fixings[place]),
                    count: u32::try_from(2 * self.brackets).unwrap(),
                    use_of_capacity: None,
                },
                valance: self.valance,
                return_left: self.return_left,
                return_right: self.return_right,
                clips: positions,
                overlap_left: None,
                overlap_right: None,
                see_past: None,
                rail_cut: self.width - Length::from_mm(10),
                rod_cut: self.width - Length::from_mm(25),
                weight: money("5.5"),
                people: self.people,
                stands_proud: None,
                gap_below: None,
            },
        }
    }
}

/// The default rules as far as order, hardware and cost read them, in millimetres and USD, with two
/// fixings, one stock size and no mark-ups.
pub fn rules() -> Rules {
    let louver = |name: &str| Product {
        name: text(name),
        colours: vec![text("white"), text("sand")],
        suits: Kind::ALL.to_vec(),
        family: Family::Louver(Box::new(louver_rules())),
    };
    Rules {
        project: project(),
        products: vec![louver("louver-89"), louver("louver-127")],
        stock_sizes: vec![StockSize {
            product: text("louver-89"),
            colours: Vec::new(),
            nominal_width: Length::inches(66),
            nominal_drop: Length::inches(84),
            width: Length::inches(66),
            drop: Length::inches(84),
            price: Some(money("36.00")),
            lead_days: Some(0),
            on_hand: 10,
            cut_width_to: None,
            cut_drop_to: None,
            at: None,
        }],
        bars: [("rail", "26.00", true), ("rod", "9.00", false), ("valance", "14.00", true)]
            .map(|(material, price, coloured)| bar(material, 5_800, price, coloured))
            .into_iter()
            .chain([bar("fabric-89", 100_000, "95.00", true)])
            .collect(),
        offcuts: Vec::new(),
        fixings: vec![
            fixing("wood screw 8 x 1 1/2", Substrate::Timber, "6.00"),
            fixing("concrete screw 1/4 x 1 3/4", Substrate::Concrete, "24.00"),
        ],
        prices: PriceList {
            blinds: vec![BlindPrice {
                product: None,
                each: Some(money("30.00")),
                per_m2: Some(money("22.00")),
                least_m2: money("1.5"),
                lead_days: Some(15),
                example: true,
                at: None,
            }],
            parts: [
                ("bracket 3 in", "1.80", 10),
                ("bracket 4 1/2 in", "2.40", 10),
                ("bracket 6 in", "3.00", 10),
                ("inside bracket", "1.20", 10),
                ("valance clip", "0.35", 20),
                ("carrier", "0.30", 100),
                ("hanger", "0.12", 100),
                ("bottom weight", "0.25", 100),
                ("spacer link", "0.04", 100),
                ("end cap", "0.40", 10),
                ("corner piece", "0.90", 10),
                ("wand", "1.50", 1),
            ]
            .map(|(item, each, pack_of)| PartPrice {
                item: text(item),
                each: Some(money(each)),
                pack_of,
                example: true,
                at: None,
            })
            .to_vec(),
        },
        rates: Rates {
            survey_minutes: Some(money("5")),
            making_minutes: Some(money("25")),
            fitting_minutes: Some(money("30")),
            hard_bracket_minutes: Some(money("8")),
            unit_minutes: Some(money("8")),
            removal: Some(Decimal::ZERO),
            delivery: Some(money("90.00")),
            size_set_up: Some(Decimal::ZERO),
        },
        used: Vec::new(),
    }
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

pub fn bar(material: &str, length_mm: i64, price: &str, coloured: bool) -> Bar {
    Bar {
        material: text(material),
        length: Length::from_mm(length_mm),
        price: Some(money(price)),
        kerf: Length::from_mm(3),
        trim: Length::from_mm(10),
        least_useful: Length::from_mm(600),
        coloured,
    }
}

fn fixing(item: &str, substrate: Substrate, price: &str) -> Fixing {
    Fixing {
        item: text(item),
        substrate,
        diameter: None,
        length: None,
        thread: None,
        capacity: Capacity::Unknown,
        pilot: None,
        pack_of: 100,
        price: Some(money(price)),
    }
}

fn project() -> Project {
    Project {
        name: String::new(),
        site: String::new(),
        client: String::new(),
        surveyed_by: String::new(),
        survey_date: None,
        revision: "1".to_owned(),
        units: Units::Millimetres,
        currency: Currency::USD,
        jurisdiction: Jurisdiction::Strictest,
        sizes_given: SizesGiven::Opening,
        floors_finished: FloorsFinished::Mixed,
        ceiling_height: None,
        built: None,
        tax: Decimal::ZERO,
        overhead: Decimal::ZERO,
        profit: Decimal::ZERO,
        contingency: Decimal::ZERO,
        labour_rate: money("45.00"),
        spare_louvers: money("2"),
        spare_fixings: money("10"),
        need_by: None,
        cost_basis: CostBasis::Buy,
        stock_sizes: false,
        accept_less_cover: Length::ZERO,
        merge_sizes: None,
        order_date: None,
        tax_on: TaxOn::All,
    }
}

fn rule<T>(value: T) -> Rule<T> {
    Rule { value, name: String::new() }
}

fn louver_rules() -> LouverRules {
    LouverRules {
        louver_width: rule(Length::sixty_fourths(224)),
        pitch: rule(Length::sixty_fourths(200)),
        least_width: rule(Length::inches(12)),
        most_width: rule(Length::inches(192)),
        least_drop: rule(Length::inches(12)),
        most_drop: rule(Length::inches(144)),
        rounding_step: rule(Length::from_mm(1)),
        side_clearance: rule(Length::sixty_fourths(16)),
        inside_drop_clearance: rule(Length::sixty_fourths(32)),
        louver_clearance: rule(Length::sixty_fourths(24)),
        half_headrail: rule(Length::sixty_fourths(56)),
        spread_limit: rule(Length::sixty_fourths(16)),
        small_spread_limit: rule(Length::sixty_fourths(8)),
        small_opening_sq_ft: rule(money("20")),
        window_most_off: rule(Length::inches(1)),
        window_least_off: rule(Length::sixty_fourths(32)),
        overlap_wanted: rule(Length::inches(2)),
        overlap_least: rule(Length::inches(1)),
        valance_past_rail: rule(Length::sixty_fourths(16)),
        hand_room: rule(Length::sixty_fourths(8)),
        above_wanted: rule(Length::inches(6)),
        above_least: rule(Length::sixty_fourths(160)),
        above_most: rule(Length::inches(12)),
        above_floor: rule(Length::sixty_fourths(16)),
        room_above: rule(Length::sixty_fourths(48)),
        bracket_above_rail: rule(Length::sixty_fourths(16)),
        floor_gap: rule(Length::sixty_fourths(32)),
        floor_gap_carpet: rule(Length::sixty_fourths(48)),
        below_wanted: rule(Length::inches(2)),
        below_least: rule(Length::inches(1)),
        room_below: rule(Length::sixty_fourths(32)),
        above_sill: rule(Length::sixty_fourths(32)),
        upper_screw: rule(Length::sixty_fourths(32)),
        lower_screw: rule(Length::sixty_fourths(96)),
        screw_edge: rule(Length::sixty_fourths(48)),
        reaches: rule(vec![Length::inches(3), Length::sixty_fourths(288), Length::inches(6)]),
        bracket_items: vec![text("bracket 3 in"), text("bracket 4 1/2 in"), text("bracket 6 in")],
        inside_bracket_item: text("inside bracket"),
        bracket_inset: rule(Length::inches(4)),
        bracket_spacing: rule(Length::inches(32)),
        fixings_per_bracket: rule(2),
        louver_off_outside: rule(Length::sixty_fourths(96)),
        louver_off_inside: rule(Length::sixty_fourths(112)),
        end_cap: rule(Length::sixty_fourths(8)),
        rod_off: rule(Length::inches(1)),
        wand_step: rule(Length::inches(12)),
        wand_end_height: rule(Length::inches(40)),
        stack_per_louver: rule(Length::sixty_fourths(24)),
        stack_base: rule(Length::sixty_fourths(224)),
        return_beyond: rule(Length::sixty_fourths(16)),
        clip_offset: rule(Length::inches(2)),
        fabric_mass: rule(money("0.28")),
        weight_mass: rule(money("0.060")),
        carrier_mass: rule(money("0.012")),
        rail_mass: rule(money("0.75")),
        valance_mass: rule(money("0.35")),
        two_people_length: rule(Length::inches(96)),
        two_people_mass: rule(money("15")),
        least_spare_louvers: rule(2),
        hem: rule(Length::inches(2)),
        rail_material: text("rail"),
        rod_material: text("rod"),
        valance_material: text("valance"),
        louver_material: text("fabric-89"),
        tolerance: rule(Length::from_mm(1)),
    }
}
