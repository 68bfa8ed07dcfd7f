//! What one fixing holds, in newtons: in wood by the NDS, in steel by AISI, else by the working load
//! that its row gives.
//!
//! Nothing says which grade a steel stud is of: it counts as steel of 33 ksi, whose tensile strength is
//! 45 ksi, the least that studs are made of. Wood of unknown species counts as Spruce-Pine-Fir.

use rust_decimal::{Decimal, MathematicalOps};

use crate::force::POUND_FORCE;
use crate::length::{Length, Unit};
use crate::rules::{Capacity, Fixing};
use crate::survey::{Species, Substrate};

/// What a fixing holds for as long as the blind hangs, and against a pull of a moment.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(super) struct Holds {
    pub(super) sustained: Decimal,
    pub(super) pulled: Decimal,
}

/// Load duration factors: of a permanent load, and of one of ten minutes (ANSI/AWC NDS-2018, Table 2.3.2).
const PERMANENT: Decimal = Decimal::from_parts(9, 0, 0, false, 1);
const TEN_MINUTES: Decimal = Decimal::from_parts(16, 0, 0, false, 1);
/// A hollow wall anchor is held to twice its working load for seconds: half of its ultimate load,
/// which is at least four times the working load (common practice, no source).
const HOLLOW_WALL_PULLED: Decimal = Decimal::TWO;
/// Tensile strength of steel of 33 ksi, in lbf per square inch (AISI S220, from memory).
const STEEL_TENSILE: Decimal = Decimal::from_parts(45_000, 0, 0, false, 0);

/// What a fixing holds with so much thread in the wood, or in steel of that thickness; `None` if its
/// capacity is not known.
pub(super) fn of(
    fixing: &Fixing,
    thread: Option<Length>,
    species: Option<Species>,
    steel: Option<Length>,
) -> Option<Holds> {
    match &fixing.capacity {
        Capacity::WoodWithdrawal => in_wood(wood_screw(gravity(species), fixing.diameter?), thread?),
        Capacity::LagWithdrawal => in_wood(lag_screw(gravity(species), fixing.diameter?)?, thread?),
        Capacity::SteelPullOut(usual) => {
            let newtons = steel_screw(steel.unwrap_or(*usual), fixing.diameter?) * POUND_FORCE;
            Some(Holds { sustained: newtons, pulled: newtons })
        }
        Capacity::WorkingLoad(newtons) => {
            let factor = match fixing.substrate {
                Substrate::Drywall => HOLLOW_WALL_PULLED,
                _ => Decimal::ONE,
            };
            Some(Holds { sustained: *newtons, pulled: *newtons * factor })
        }
        Capacity::Unknown => None,
    }
}

fn in_wood(an_inch: Decimal, thread: Length) -> Option<Holds> {
    let newtons = an_inch * inches(thread) * POUND_FORCE;
    (newtons > Decimal::ZERO).then(|| Holds { sustained: newtons * PERMANENT, pulled: newtons * TEN_MINUTES })
}

/// Withdrawal of a wood screw from side grain, in lbf an inch of thread: 2850 G^2 D
/// (ANSI/AWC NDS-2018, 12.2.2).
fn wood_screw(gravity: Decimal, diameter: Length) -> Decimal {
    Decimal::from(2850) * gravity * gravity * inches(diameter)
}

/// Withdrawal of a lag screw from side grain, in lbf an inch of thread, its tip left out:
/// 1800 G^(3/2) D^(3/4) (ANSI/AWC NDS-2018, 12.2.1; the formula from memory, its values as printed in
/// Table 12.2A).
fn lag_screw(gravity: Decimal, diameter: Length) -> Option<Decimal> {
    let root = inches(diameter).sqrt()?;
    Some(Decimal::from(1800) * gravity * gravity.sqrt()? * root * root.sqrt()?)
}

/// Pull-out of a screw from steel, in lbf: 0.85 t d F over the safety factor of 3 (AISI S100-16, J4.4.1,
/// from memory).
fn steel_screw(thickness: Length, diameter: Length) -> Decimal {
    Decimal::new(85, 2) * inches(thickness) * inches(diameter) * STEEL_TENSILE / Decimal::from(3)
}

/// Specific gravity, oven-dry, of a group of species (ANSI/AWC NDS-2018, Table 12.3.3A, from memory).
fn gravity(species: Option<Species>) -> Decimal {
    let hundredths = match species.unwrap_or(Species::SprucePineFir) {
        Species::NorthernSpecies | Species::WesternCedars => 35,
        Species::WesternWoods | Species::SprucePineFirSouth => 36,
        Species::SprucePineFir => 42,
        Species::HemFir => 43,
        Species::HemFirNorth => 46,
        Species::DouglasFirLarchNorth => 49,
        Species::DouglasFirLarch => 50,
        Species::SouthernPine | Species::MixedMaple => 55,
        Species::RedOak => 67,
    };
    Decimal::new(hundredths, 2)
}

fn inches(length: Length) -> Decimal {
    length.in_unit(Unit::Inch)
}

#[cfg(test)]
mod tests {
    use rust_decimal::Decimal;

    use super::{gravity, inches, lag_screw, steel_screw, wood_screw};
    use crate::length::Length;
    use crate::rounding::half_away;
    use crate::survey::Species;

    fn thousandths(inches: i64) -> Length {
        Length::from_nm(25_400 * inches)
    }

    fn tens_of_thousandths(inches: i64) -> Length {
        Length::from_nm(2_540 * inches)
    }

    /// ASME B18.6.1: D = 0.060 + 0.013 N in (Yu and LaBoube, Cold-Formed Steel Design, Table 8.6), and
    /// the withdrawal that ANSI/AWC NDS-2018 12.2.2 gives it, rounded as a table prints it.
    #[test]
    fn a_wood_screw_is_drawn_out_as_the_nds_says() {
        let diameter = |number: i64| thousandths(60 + 13 * number);
        assert_eq!(
            [6, 8, 10, 12, 14].map(|n| inches(diameter(n)).to_string()),
            ["0.138", "0.164", "0.190", "0.216", "0.242"]
                .map(String::from)
                .map(|text| text.trim_end_matches('0').to_owned())
        );
        let cases = [
            (Species::NorthernSpecies, [48, 57, 66, 75]),
            (Species::SprucePineFir, [69, 82, 96, 109]),
            (Species::HemFir, [73, 86, 100, 114]),
            (Species::DouglasFirLarch, [98, 117, 135, 154]),
            (Species::SouthernPine, [119, 141, 164, 186]),
            (Species::RedOak, [177, 210, 243, 276]),
        ];
        for (species, lbf) in cases {
            let found = [6, 8, 10, 12].map(|n| half_away(wood_screw(gravity(Some(species)), diameter(n)), 0));
            assert_eq!(found, lbf.map(Decimal::from), "{species}");
        }
        // The Wood Handbook's ultimate load, 15,700 G^2 D lbf an inch (FPL-GTR-190, eq. 8-10), is 5.509
        // times as much.
        let ratio = Decimal::from(15_700) / (wood_screw(Decimal::ONE, Length::inches(1)));
        assert_eq!(half_away(ratio, 3), Decimal::new(5509, 3));
    }

    /// Values printed in ANSI/AWC NDS, Table 12.2A.
    #[test]
    fn a_lag_screw_is_drawn_out_as_the_nds_prints() {
        let cases = [
            (
                4,
                [(67, 349), (58, 281), (55, 260), (50, 225), (47, 205), (42, 173), (36, 137), (35, 132)]
                    .as_slice(),
            ),
            (5, &[(50, 266), (42, 205)]),
            (6, &[(55, 352), (50, 305), (43, 243), (42, 235)]),
            (8, &[(55, 437), (50, 378), (42, 291)]),
        ];
        for (sixteenths, values) in cases {
            for (hundredths, lbf) in values {
                let withdrawal =
                    lag_screw(Decimal::new(*hundredths, 2), Length::sixty_fourths(4 * sixteenths));
                let found = withdrawal.map(|lbf| half_away(lbf, 0));
                assert_eq!(found, Some(Decimal::from(*lbf)), "{sixteenths}/16 in, G 0.{hundredths}");
            }
        }
    }

    /// No. 8 and no. 10 screws in studs of each designation, by AISI S100-16 J4.4.1 (from memory).
    #[test]
    fn a_steel_screw_is_drawn_out_as_aisi_says() {
        let cases = [(346, 164, 723), (346, 190, 838), (188, 164, 393), (451, 190, 1093)];
        for (thickness, diameter, tenths) in cases {
            let found = half_away(steel_screw(tens_of_thousandths(thickness), thousandths(diameter)), 1);
            assert_eq!(found, Decimal::new(tenths, 1));
        }
    }

    /// ANSI/AWC NDS-2018, Table 12.3.3A, from memory.
    #[test]
    fn each_group_of_species_has_its_gravity() {
        for (species, hundredths) in [
            (Species::NorthernSpecies, 35),
            (Species::WesternCedars, 35),
            (Species::WesternWoods, 36),
            (Species::SprucePineFirSouth, 36),
            (Species::SprucePineFir, 42),
            (Species::HemFir, 43),
            (Species::HemFirNorth, 46),
            (Species::DouglasFirLarchNorth, 49),
            (Species::DouglasFirLarch, 50),
            (Species::SouthernPine, 55),
            (Species::MixedMaple, 55),
            (Species::RedOak, 67),
        ] {
            assert_eq!(gravity(Some(species)), Decimal::new(hundredths, 2), "{species:?}");
        }
        assert_eq!(gravity(None), gravity(Some(Species::SprucePineFir)));
    }
}
