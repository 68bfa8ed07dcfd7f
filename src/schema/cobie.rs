//! The columns that are read of a COBie handover (NBIMS-US V3 section 4.2, BS 1192-4: Component,
//! Type, Space, Facility). Names and sizes move from there to the columns of `Openings`.

use super::{Form, Kind, columns};

/// The things in a building, one row each.
pub mod component {
    use super::{Form, Kind, columns};

    columns! { COMPONENT, "Component", Form::Rows, "The things in a building, one row each.";
        NAME "name" "Name" [] Kind::Text, "none", "What the component is called.";
        TYPE_NAME "type_name" "TypeName" [] Kind::Text, "none", "The row of Type that it is of.";
        SPACE "space" "Space" [] Kind::Text, "none", "The space that it is in.";
        DESCRIPTION "description" "Description" [] Kind::Text, "none", "What is said of it.";
        EXT_OBJECT "ext_object" "ExtObject" ["ExternalObject"] Kind::Text, "none", "The IFC entity that it was exported from.";
    }
}

/// The types of things, with their sizes.
pub mod types {
    use super::{Form, Kind, columns};

    columns! { TYPE, "Type", Form::Rows, "The types of things, with their sizes.";
        NAME "name" "Name" [] Kind::Text, "none", "What the type is called.";
        CATEGORY "category" "Category" [] Kind::Text, "none", "Its class, such as one of OmniClass table 23.";
        DESCRIPTION "description" "Description" [] Kind::Text, "none", "What is said of it.";
        EXT_OBJECT "ext_object" "ExtObject" ["ExternalObject"] Kind::Text, "none", "The IFC entity that it was exported from.";
        NOMINAL_WIDTH "nominal_width" "NominalWidth" [] Kind::Text, "none", "Width, in the facility's linear units.";
        NOMINAL_HEIGHT "nominal_height" "NominalHeight" [] Kind::Text, "none", "Height, in the facility's linear units.";
        SIZE "size" "Size" [] Kind::Text, "none", "The size in words, such as 900 x 2100.";
    }
}

/// The spaces of a building.
pub mod space {
    use super::{Form, Kind, columns};

    columns! { SPACE, "Space", Form::Rows, "The spaces of a building.";
        NAME "name" "Name" [] Kind::Text, "none", "What the space is called.";
        FLOOR_NAME "floor_name" "FloorName" [] Kind::Text, "none", "The floor that it is on.";
    }
}

/// The building itself.
pub mod facility {
    use super::{Form, Kind, columns};

    columns! { FACILITY, "Facility", Form::Rows, "The building itself.";
        NAME "name" "Name" [] Kind::Text, "none", "What the building is called.";
        LINEAR_UNITS "linear_units" "LinearUnits" [] Kind::Text, "none", "The unit of every length.";
    }
}
