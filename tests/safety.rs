//! What law and standards say, against their published figures, and what is asked where an opening
//! falls short of them.

use crate::support::opening::{Case, check};
use sillbook::length::{Length, Unit};
use sillbook::rules::safety::{Certainty, Cord, CordFault, CordRule, Force, Products, Safety};
use sillbook::rules::{self, Jurisdiction};
use sillbook::survey::CordDevice;

fn safety() -> Safety {
    rules::build(&[], Unit::Inch).unwrap().value.safety
}

fn rule(safety: &Safety, of: Jurisdiction, products: Products) -> &CordRule {
    let mut rules = safety.cords(Some(of), products);
    let rule = rules.next().unwrap();
    assert!(rules.next().is_none(), "{of} has two rules for the same products");
    rule
}

/// Tenths of a millimeter.
fn tenths(count: i64) -> Length {
    Length::from_nm(count * 100_000)
}

/// 16 CFR 1120.3(e) by way of ANSI/WCMA A100.1-2018, 4.3.1.2: 8 in. SOR/2019-97, sections 5 to 8: 22 cm, and
/// 44 cm around a loop. Each compared in its own unit.
#[test]
fn a_free_cord_is_as_short_as_its_source_says() {
    let safety = safety();
    let [us, ca] =
        [Jurisdiction::UnitedStates, Jurisdiction::Canada].map(|of| rule(&safety, of, Products::Stock));
    for (length, in_the_us, in_canada) in [
        (tenths(2_000), true, true),
        (tenths(2_032), true, true),
        (tenths(2_033), false, true),
        (tenths(2_050), false, true),
        (tenths(2_200), false, true),
        (tenths(2_201), false, false),
        (tenths(2_210), false, false),
        (Length::ZERO, false, false),
    ] {
        assert_eq!((us.lets_hang(length), ca.lets_hang(length)), (in_the_us, in_canada), "{length:?}");
    }
    // A loop of 440 mm around hangs 220 mm; one of 441 more.
    assert!(ca.lets_hang(tenths(4_400).share(1, 2)));
    assert!(!ca.lets_hang(tenths(4_410).share(1, 2)));
}

/// A chain of 1 m, in no device, is allowed nowhere: by each of the sources above and below.
#[test]
fn a_long_chain_without_a_device_is_allowed_nowhere() {
    let safety = safety();
    for device in [None, Some(CordDevice::None)] {
        let chain =
            Cord { hangs: Some(Length::from_mm(1_000)), device, height: Some(Length::from_mm(1_700)) };
        for products in [Products::Stock, Products::Made] {
            let rules: Vec<_> = safety.cords(None, products).collect();
            assert_eq!(rules.len(), 5, "one for each jurisdiction");
            assert!(rules.iter().all(|rule| rule.judge(chain).is_err()));
        }
    }
}

/// EN 13120:2009+A1:2014 (second-hand): what a chain hangs from, less 1500 mm, is the longest chain. The
/// Competition and Consumer (Corded Internal Window Coverings) Safety Standard 2014, section 6: a cleat at
/// 1600 mm, of which its authority says "at or less" and its guide "less than".
#[test]
fn a_device_is_as_high_as_its_source_says() {
    let safety = safety();
    let held = |of, device, top: i64, chain: i64| {
        let (hangs, height) = (Some(Length::from_mm(chain)), Some(Length::from_mm(top - chain)));
        rule(&safety, of, Products::Made).judge(Cord { hangs, device: Some(device), height })
    };
    for of in [Jurisdiction::EuropeanUnion, Jurisdiction::UnitedKingdom] {
        assert_eq!(held(of, CordDevice::TensionDevice, 2_150, 650), Ok(()));
        assert!(matches!(held(of, CordDevice::TensionDevice, 2_150, 700), Err(CordFault::TooLow(_))));
    }
    let au = Jurisdiction::Australia;
    assert!(matches!(held(au, CordDevice::Cleat, 2_150, 550), Err(CordFault::TooLow(_))));
    assert_eq!(held(au, CordDevice::Cleat, 2_150, 549), Ok(()));
}

/// ADA 308.2 lets a control be 48 in high at most; what keeps a cord from children is never as low as that.
#[test]
fn no_height_of_a_cord_is_in_reach_from_a_wheelchair() {
    let safety = safety();
    let highest = safety.access.reach.highest.length;
    assert_eq!(highest, tenths(12_192));
    for of in [Jurisdiction::EuropeanUnion, Jurisdiction::UnitedKingdom, Jurisdiction::Australia] {
        let held = &rule(&safety, of, Products::Made).devices;
        let cleat = held.iter().find(|held| held.device == CordDevice::Cleat).unwrap();
        assert!(!cleat.height.as_ref().unwrap().allows(highest), "{of}");
    }
}

/// The limits of ADA 308.2 and 404.2.3 are inches: 48 in are 1219.2 mm, not the 1220 that are printed beside
/// them, and 15 in 381 mm, not 380.
#[test]
fn limits_are_kept_in_the_unit_of_their_source() {
    let access = safety().access;
    let reach = &access.reach;
    for (limit, inches, printed_mm) in [
        (&reach.lowest, 15, 380),
        (&reach.highest, 48, 1_220),
        (&reach.highest_over, 44, 1_120),
        (&reach.over, 20, 510),
        (&access.door.clear, 32, 815),
    ] {
        assert_eq!(limit.length, Length::inches(inches));
        assert_ne!(limit.length, Length::from_mm(printed_mm));
    }
    assert_eq!(reach.deepest.length, Length::from_mm(635));
}

/// IRC R310: 5.7 sq ft, 20 in wide, 24 in high; both of the least make 3.33 sq ft, too little.
#[test]
fn an_escape_opening_has_the_area_of_its_code() {
    let safety = safety();
    let code = safety.escape(Some(Jurisdiction::UnitedStates)).unwrap();
    let half = |halves: i64| Length::sixty_fourths(32 * halves);
    for (width, height, is_enough) in [
        (half(40), half(48), false),
        (half(60), half(53), false),
        (half(62), half(53), true),
        // 20 in wide it must be 41.04 in high, 24 in high 34.2 in wide.
        (half(40), tenths(10_424), false),
        (half(40), tenths(10_425), true),
        // 20 x 41.04 in are 820.8 sq in, 5.7 sq ft to the last decimal.
        (half(40), Length::from_nm(1_042_416_000), true),
        (half(40), Length::from_nm(1_042_415_999), false),
        (tenths(8_686), half(48), false),
        (tenths(8_687), half(48), true),
    ] {
        assert_eq!(code.is_enough(width, height), is_enough, "{width:?} x {height:?}");
    }
    assert_eq!(safety.escape(None), Some(code), "the only figures known are the strictest");
    for of in [Jurisdiction::Canada, Jurisdiction::EuropeanUnion, Jurisdiction::Unregulated] {
        assert!(safety.escape(Some(of)).is_none());
    }
}

/// 16 CFR 1260 was vacated (D.C. Circuit, No. 22-1300, 2023-09-12), and Decision 2014/531/EU repealed.
#[test]
fn no_rule_is_one_that_holds_no_more() {
    let safety = safety();
    for products in [Products::Stock, Products::Made] {
        for rule in safety.cords(None, products) {
            let source = &rule.source;
            assert!(!source.number.contains("1260") && !source.number.contains("2014/531"), "{source:?}");
            assert!(!source.title.is_empty() && !source.dated.is_empty(), "{source:?}");
        }
    }
    let custom = rule(&safety, Jurisdiction::UnitedStates, Products::Made);
    assert_eq!((custom.force, custom.source.certainty), (Force::VoluntaryStandard, Certainty::SecondHand));
}

#[test]
fn an_escape_opening_that_falls_short_is_asked_about_with_both_figures() {
    for case in [
        // 26 1/4 wide, its blind 25 3/4: 9 louvers, a stack of 6 7/8, and 1/4 at its side: 19 1/8.
        Case(
            "Kind = window; Width = 26 1/4; Height = 48; Recess depth = 4; Sill height = 30; Escape = yes; \
             Escape clear width = 24; Escape clear height = 46",
            "clear = 19 1/8; clear for escape = 19 1/8; asks = check: escape opening: with the blind open it is \
             narrower than IRC R310 (second-hand) needs (19 1/8 in clear, 20 in needed)",
        ),
        // Its sash is what is narrow: 40 1/8 are clear of the blind.
        Case(
            "Width = 48; Height = 60; Sill height = 30; Escape = yes; Escape clear width = 19 1/8; \
             Escape clear height = 46",
            "clear = 40 1/8; clear for escape = 19 1/8; asks = (19 1/8 in clear, 20 in needed)",
        ),
        Case(
            "Width = 48; Height = 60; Sill height = 30; Escape = yes; Escape clear width = 30; Escape clear height = 26 1/2",
            "asks = (5.52 sq ft clear, 5.7 sq ft needed)",
        ),
        Case(
            "Units = mm; Width = 1200; Height = 1500; Sill height = 800; Escape = yes; Escape clear width = 762; \
             Escape clear height = 673",
            "asks = (0.512 m2 clear, 0.53 m2 needed)",
        ),
        Case(
            "Width = 48; Height = 60; Sill height = 45; Escape = yes; Escape clear width = 40; Escape clear height = 40",
            "asks = (45 in above the floor, at most 44 in allowed)",
        ),
        Case(
            "Width = 48; Height = 60; Sill height = 45; Floor to come = 1; Escape = yes; Escape clear width = 40; \
             Escape clear height = 40",
            "asks = (45 in above the floor, at most 44 in allowed",
        ),
        // What one half shows to be too narrow is told although the other is unknown.
        Case(
            "Kind = window; Width = 26 1/4; Height = 48; Recess depth = 4; Sill height = 30; Escape = yes",
            "asks = (19 1/8 in clear, 20 in needed)",
        ),
        Case(
            "Kind = window; Width = 26 1/4; Height = 48; Recess depth = 4; Sill height = 30; Escape = yes",
            "asks = Escape clear width is blank",
        ),
        Case(
            "Jurisdiction = AU; Kind = window; Width = 26 1/4; Height = 48; Recess depth = 4; Sill height = 30; \
             Escape = yes; Escape clear width = 24; Escape clear height = 46",
            "asks = no sizes are listed for jurisdiction AU (19 1/8 in clear); does not ask = IRC",
        ),
        Case(
            "Width = 48; Height = 60; Sill height = 30; Control = motor; Escape = yes; Escape clear width = 40; \
             Escape clear height = 40",
            "asks = its blind is moved by a motor",
        ),
        Case("Width = 26 1/4; Height = 48; Recess depth = 4; Sill height = 30", "does not ask = escape"),
    ] {
        check(case);
    }
}

/// ADA 404.2.3, from memory: 32 in.
#[test]
fn a_door_of_an_accessible_unit_stays_wide_enough() {
    for case in [
        Case(
            "Kind = door; Width = 38 3/4; Height = 78; Accessible = yes",
            "clear = 32; does not ask = of the door",
        ),
        Case(
            "Kind = door; Width = 38 5/8; Height = 78; Accessible = yes",
            "clear = 31 7/8; asks = check: accessible unit: the open blind leaves less of the door clear than ADA \
             404.2.3 (from memory) needs (31 7/8 in clear, 32 in needed)",
        ),
        Case("Kind = door; Width = 38 5/8; Height = 78", "does not ask = of the door"),
        Case("Kind = window; Width = 30; Height = 48; Accessible = yes", "does not ask = of the door"),
    ] {
        check(case);
    }
}

/// What is used of these rules is listed with its source, as every rule is: that of the project's
/// jurisdiction, or of all of them.
#[test]
fn the_rules_of_the_jurisdiction_are_listed_with_their_sources() {
    let listed = |jurisdiction: &str| {
        let text = format!("[Project]\nUnits | in\nJurisdiction | {jurisdiction}\n");
        let grids = [crate::support::grid(&text)];
        let rules = rules::build(&grids, Unit::Inch).unwrap().value;
        let used = rules.used.into_iter().filter(|used| used.table == "Safety");
        used.map(|used| format!("{}, {}: {} ({})", used.item, used.rule, used.value, used.why))
            .collect::<Vec<_>>()
    };
    let (us, none) = (listed("US"), listed("none"));
    assert_eq!(
        us[0],
        "US, stock, Cord: at most 8 in free; no device; law (Substantial Product Hazard List: Window Covering Cords, \
         16 CFR 1120.3(e), in force from 2022-12-28; read)"
    );
    assert!(us[1].contains("tension device at any height; voluntary standard"), "{us:?}");
    assert!(us[2].starts_with("US, Escape: 20 in wide; 24 in high; 5.7 sq ft; sill at most 44 in"), "{us:?}");
    assert_eq!(us[3..], none[..], "what is accessible is the same everywhere");
    assert_eq!(listed("").len(), 6 + 1 + 3);
}
