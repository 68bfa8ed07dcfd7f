//! Made blinds as windows of sizes alone, in steps of 1/8 in: what sharing sizes looks at.

use std::sync::Arc;

use sillbook::frozen::Frozen;
use sillbook::length::Length;
use sillbook::place::{CellRef, Sheets};
use sillbook::query::Checked;
use sillbook::rules::Rules;
use sillbook::sizing::{Face, Hung, InRecess, Mount, OnWall, Operation, Release, Size, SizeWindow, Sizing};
use sillbook::sourcing::{Sourcing, source};
use sillbook::survey::{AsRead, Blanks, Control, Draw, Identity, Opening, Survey};

/// One opening's blinds.
#[derive(Clone, Debug)]
pub struct Blinds {
    pub quantity: u32,
    pub phase: &'static str,
    pub inside: bool,
    pub window: SizeWindow,
}

impl Blinds {
    /// A window of preferred, least and most width and drop, in halves of a step.
    pub fn of(inside: bool, quantity: u32, [width, drop]: [[i64; 3]; 2]) -> Blinds {
        let half = |count: i64| Length::sixty_fourths(4 * count);
        let size = |end: usize| Size { width: half(width[end]), drop: half(drop[end]) };
        Blinds { quantity, phase: "", inside, window: SizeWindow::new(size(0), size(1), size(2)) }
    }
}

/// The sizes that the blinds get.
pub fn sourced<'r>(blinds: &[Blinds], rules: &'r Rules) -> Checked<Sourcing<'r>> {
    let mut survey = Survey::default();
    let sheet = Sheets::default().enter("survey.xlsx", "Openings").expect("the first sheet of all");
    let sizings: Vec<_> = blinds
        .iter()
        .zip(1..)
        .map(|(blinds, row)| {
            survey.openings.push(opening(CellRef { sheet, row, column: 0 }, blinds.phase, blinds.quantity));
            Some(sizing(blinds, rules))
        })
        .collect();
    source(&survey, &sizings, &Frozen::default(), rules)
}

/// An opening of which nothing is known but its place, its phase and its quantity.
pub fn opening(at: CellRef, phase: &str, quantity: u32) -> Opening {
    let empty: Arc<str> = Arc::from("");
    let who = Identity {
        written: empty.clone(),
        name: empty.clone(),
        survey: empty.clone(),
        at,
        building: empty.clone(),
        floor: empty.clone(),
        unit: empty.clone(),
        room: empty.clone(),
        phase: Arc::from(phase),
        note: empty,
        carried: Vec::new(),
        quantity,
    };
    Opening { who, facts: None, blanks: Blanks::default(), as_read: AsRead::default() }
}

fn sizing<'r>(blinds: &Blinds, rules: &'r Rules) -> Sizing<'r> {
    let product = &rules.products[0];
    let cover = &product.cover;
    let hung = match blinds.inside {
        true => Hung::Inside(InRecess { bracket: &cover.inside_bracket_item, rail: None, allowance: None }),
        false => Hung::Outside(OnWall {
            bracket: &cover.bracket_items[0],
            reach: cover.reaches[0],
            face: Face::Wall,
            allowance: None,
        }),
    };
    debug_assert_eq!(hung.mount() == Mount::Inside, blinds.inside);
    Sizing {
        otherwise: false,
        product,
        color: product.colors[0].clone(),
        hung,
        release: Release::Make,
        operation: Operation { draw: Draw::Left, control: Control::Wand },
        lean: None,
        window: blinds.window,
    }
}
