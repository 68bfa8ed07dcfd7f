//! The numbers that are worked out for an opening, each under one name.

/// Lists the numbers with the names that they are shown by: `Width = "width"`.
macro_rules! numbers {
    ($($variant:ident = $name:literal,)*) => {
        /// A number, count or choice that is worked out for an opening, step by step.
        #[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Hash)]
        pub enum Number { $(#[doc = $name] $variant,)* }

        impl Number {
            /// Every number.
            pub const ALL: &'static [Number] = &[$(Number::$variant),*];

            /// The name that it is shown by.
            pub const fn name(self) -> &'static str {
                match self { $(Number::$variant => $name,)* }
            }
        }
    };
}

numbers! {
    Mount = "mount",
    Width = "width",
    Drop = "drop",
    Lean = "out of square",
    AimLeft = "target overlap, left",
    AimRight = "target overlap, right",
    AboveHead = "rail top above head",
    Bottom = "blind bottom above opening bottom",
    DepthNeeded = "recess depth needed",
    Setback = "setback",
    StandsProud = "projection past wall face",
    Reach = "reach",
    OverlapLeft = "overlap, left",
    OverlapRight = "overlap, right",
    HeadAboveFloor = "head above floor",
    BracketTopAboveHead = "bracket top above head",
    BracketTopAboveFloor = "bracket top above floor",
    Brackets = "brackets",
    CenterFromRail = "bracket center from rail's left end",
    CenterFromOpening = "bracket center from opening's left edge",
    Louvers = "louvers",
    LouverLength = "louver length",
    Stack = "stack",
    ClearOpen = "clear when open",
    EscapeClear = "clear for escape",
    Valance = "valance",
    ReturnLeft = "return, left",
    ReturnRight = "return, right",
    SeePast = "see-past angle",
    ControlSide = "control side",
    Wand = "wand",
    Fixings = "fixings",
    Fixing = "fixing chosen for",
    Reaction = "load on a bracket",
    Pull = "pull on a screw, hanging",
    PulledPull = "pull on a screw, pulled",
    Shear = "shear on a screw",
    Holds = "a screw holds, hanging",
    HoldsPulled = "a screw holds, pulled",
    UseHung = "load / capacity, hanging",
    UsePulled = "load / capacity, pulled",
    HeadrailCut = "headrail cut",
    TiltRodCut = "tilt rod cut",
    Weight = "weight",
    People = "people",
}
