//! The rules, one file each. The head of a file is the rule's page.

pub mod action_without_data;
pub mod after_backward;
pub mod alike_in_grey;
pub mod already_made;
pub mod alternative_missing;
pub mod angle_out_of_range;
pub mod assembly_made_twice;
pub mod assembly_not_used;
pub mod bad_count;
pub mod bad_id;
pub mod bag_in_two_crates;
pub mod bend_impossible;
pub mod bend_length_differs;
pub mod bend_radius_tight;
pub mod bend_too_tight;
pub mod blind_rivet_grip;
pub mod bolt_does_not_fit;
pub mod bond_incomplete;
pub mod bond_not_cured;
pub mod both_ends_onto_one;
pub mod broken_condition;
pub mod broken_figure;
pub mod broken_font;
pub mod broken_link;
pub mod broken_release;
pub mod broken_table;
pub mod broken_template;
pub mod broken_workbook;
pub mod broken_yaml;
pub mod cable_end_unsuited;
pub mod cable_ends_differ;
pub mod cable_incomplete;
pub mod cable_order;
pub mod cable_proof_too_high;
pub mod cable_too_long;
pub mod cable_unfinished;
pub mod callout_left_out;
pub mod callout_place;
pub mod callout_twice;
pub mod closed_before_inspection;
pub mod coarse_figure;
pub mod condition_in_table;
pub mod condition_mark;
pub mod configuration_not_allowed;
pub mod corner_open;
pub mod countersink_unsuited;
pub mod critical_joint;
pub mod cut_from_differs;
pub mod cut_impossible;
pub mod cut_incomplete;
pub mod cut_too_long;
pub mod cut_without_stock;
pub mod designation_misspelt;
pub mod done_twice;
pub mod drilled_through_finish;
pub mod duplicate_column;
pub mod duplicate_id;
pub mod duplicate_key;
pub mod duplicate_number;
pub mod empty_section;
pub mod empty_table;
pub mod faint_in_grey;
pub mod fastener_spacing;
pub mod figure_words_twice;
pub mod file_name;
pub mod file_too_large;
pub mod finish_not_applied;
pub mod finished_in_part;
pub mod footnote;
pub mod hairline;
pub mod hardware_differs;
pub mod hardware_incomplete;
pub mod hardware_not_fitted;
pub mod hardware_not_removed;
pub mod hardware_unit;
pub mod hidden_character;
pub mod hole_not_deburred;
pub mod hole_not_primed;
pub mod hole_not_there;
pub mod hole_opened_early;
pub mod hole_row_impossible;
pub mod hole_row_unknown;
pub mod hole_size_not_known;
pub mod hole_too_large;
pub mod hole_too_small;
pub mod hole_without_fastener;
pub mod hours_unusual;
pub mod html_in_text;
pub mod id_reused;
pub mod item_of_another_kind;
pub mod joint_and_list_differ;
pub mod late_safety;
pub mod leans_on_colour;
pub mod left_without;
pub mod length_differs;
pub mod listed_twice;
pub mod listed_without_use;
pub mod long_point_missing;
pub mod long_safety_message;
pub mod lost_list_entry;
pub mod made_twice;
pub mod match_drill_elsewhere;
pub mod match_drill_too_early;
pub mod match_drill_without_from;
pub mod material_differs;
pub mod material_not_known;
pub mod measure_limits;
pub mod measure_sides_differ;
pub mod missing_alt_text;
pub mod missing_character;
pub mod missing_column;
pub mod missing_file;
pub mod missing_key;
pub mod missing_opposite;
pub mod missing_value;
pub mod misspelt_column;
pub mod more_than_there;
pub mod never_closed;
pub mod never_cut;
pub mod never_holds;
pub mod no_action_does_it;
pub mod no_front_matter;
pub mod no_manual;
pub mod no_such_designation;
pub mod no_tube_to_fit;
pub mod not_as_supplied;
pub mod not_begun;
pub mod not_of_this_step;
pub mod not_put_back;
pub mod not_utf_8;
pub mod nothing_to_do;
pub mod number_as_value;
pub mod number_not_changed;
pub mod nut_does_not_suit;
pub mod odd_unit;
pub mod offset_differs;
pub mod offset_on_other_side;
pub mod offset_sides_differ;
pub mod one_jig_one_hand;
pub mod opens_nothing;
pub mod opposite_unclear;
pub mod opposites_differ;
pub mod order_circle;
pub mod order_open;
pub mod outside_folder;
pub mod own_fault;
pub mod personal_data;
pub mod picture_in_text;
pub mod pieces_too_long;
pub mod pin_does_not_fit;
pub mod place_missing;
pub mod quantity_mismatch;
pub mod ragged_row;
pub mod reamer_allowance;
pub mod reference_not_here;
pub mod refit_without_removal;
pub mod release_otherwise;
pub mod replaced_in_circle;
pub mod rivet_closed_behind;
pub mod rivet_diameter;
pub mod rivet_length;
pub mod role_unclear;
pub mod saddle_misses;
pub mod sentence_length;
pub mod serial_without_number;
pub mod shipped_count;
pub mod shipped_place;
pub mod shipped_unknown;
pub mod stack_not_known;
pub mod stale_acceptance;
pub mod stick_archive;
pub mod stick_file_size;
pub mod stick_name;
pub mod stick_size;
pub mod stock_incomplete;
pub mod stock_name_differs;
pub mod substitute_unsuited;
pub mod substitution_not_approved;
pub mod table_too_large;
pub mod table_twice;
pub mod telescoping_fit;
pub mod text_as_code;
pub mod text_cut_off;
pub mod text_names_another;
pub mod text_too_deep;
pub mod text_too_large;
pub mod tightened_before_fitted;
pub mod too_deep;
pub mod tool_missing;
pub mod tool_not_needed;
pub mod torque_required;
pub mod torque_too_high;
pub mod torque_unlike_table;
pub mod trim_differs;
pub mod turnbuckle_wire;
pub mod twin_sentence;
pub mod two_lengths;
pub mod two_readings;
pub mod two_workbooks;
pub mod unbending_rule;
pub mod unclear_cell;
pub mod unclear_condition;
pub mod unknown_assembly;
pub mod unknown_bond;
pub mod unknown_column;
pub mod unknown_condition;
pub mod unknown_consumable;
pub mod unknown_datum;
pub mod unknown_figure;
pub mod unknown_guide;
pub mod unknown_hardware;
pub mod unknown_joint_kind;
pub mod unknown_key;
pub mod unknown_link;
pub mod unknown_option;
pub mod unknown_part;
pub mod unknown_release;
pub mod unknown_rule;
pub mod unknown_section;
pub mod unknown_step;
pub mod unknown_stock;
pub mod unknown_tool;
pub mod unknown_variant;
pub mod unknown_word;
pub mod unlike_condition;
pub mod unlike_metals;
pub mod unnamed_column;
pub mod unproven_release;
pub mod unread_file;
pub mod unread_safety;
pub mod unread_sheet;
pub mod unreadable_characters;
pub mod unreadable_file;
pub mod unreadable_value;
pub mod unusable_name;
pub mod unused_figure;
pub mod unused_hardware;
pub mod unused_part;
pub mod used_before_there;
pub mod value_differs;
pub mod value_not_of_step;
pub mod value_without_unit;
pub mod variant_circle;
pub mod variant_conditions;
pub mod variant_dropped;
pub mod wide_table;
pub mod wire_incomplete;
pub mod wire_not_protected;
pub mod written_twice;
pub mod wrong_hand;
pub mod wrong_type;

use super::Rule;

/// All rules, ordered by id.
pub const RULES: &[Rule] = &[
    action_without_data::RULE,
    after_backward::RULE,
    alike_in_grey::RULE,
    already_made::RULE,
    alternative_missing::RULE,
    angle_out_of_range::RULE,
    assembly_made_twice::RULE,
    assembly_not_used::RULE,
    bad_count::RULE,
    bad_id::RULE,
    bag_in_two_crates::RULE,
    bend_impossible::RULE,
    bend_length_differs::RULE,
    bend_radius_tight::RULE,
    bend_too_tight::RULE,
    blind_rivet_grip::RULE,
    bolt_does_not_fit::RULE,
    bond_incomplete::RULE,
    bond_not_cured::RULE,
    both_ends_onto_one::RULE,
    broken_condition::RULE,
    broken_figure::RULE,
    broken_font::RULE,
    broken_link::RULE,
    broken_release::RULE,
    broken_table::RULE,
    broken_template::RULE,
    broken_workbook::RULE,
    broken_yaml::RULE,
    cable_end_unsuited::RULE,
    cable_ends_differ::RULE,
    cable_incomplete::RULE,
    cable_order::RULE,
    cable_proof_too_high::RULE,
    cable_too_long::RULE,
    cable_unfinished::RULE,
    callout_left_out::RULE,
    callout_place::RULE,
    callout_twice::RULE,
    closed_before_inspection::RULE,
    coarse_figure::RULE,
    condition_in_table::RULE,
    condition_mark::RULE,
    configuration_not_allowed::RULE,
    corner_open::RULE,
    countersink_unsuited::RULE,
    critical_joint::RULE,
    cut_from_differs::RULE,
    cut_impossible::RULE,
    cut_incomplete::RULE,
    cut_too_long::RULE,
    cut_without_stock::RULE,
    designation_misspelt::RULE,
    done_twice::RULE,
    drilled_through_finish::RULE,
    duplicate_column::RULE,
    duplicate_id::RULE,
    duplicate_key::RULE,
    duplicate_number::RULE,
    empty_section::RULE,
    empty_table::RULE,
    faint_in_grey::RULE,
    fastener_spacing::RULE,
    figure_words_twice::RULE,
    file_name::RULE,
    file_too_large::RULE,
    finish_not_applied::RULE,
    finished_in_part::RULE,
    footnote::RULE,
    hairline::RULE,
    hardware_differs::RULE,
    hardware_incomplete::RULE,
    hardware_not_fitted::RULE,
    hardware_not_removed::RULE,
    hardware_unit::RULE,
    hidden_character::RULE,
    hole_not_deburred::RULE,
    hole_not_primed::RULE,
    hole_not_there::RULE,
    hole_opened_early::RULE,
    hole_row_impossible::RULE,
    hole_row_unknown::RULE,
    hole_size_not_known::RULE,
    hole_too_large::RULE,
    hole_too_small::RULE,
    hole_without_fastener::RULE,
    hours_unusual::RULE,
    html_in_text::RULE,
    id_reused::RULE,
    item_of_another_kind::RULE,
    joint_and_list_differ::RULE,
    late_safety::RULE,
    leans_on_colour::RULE,
    left_without::RULE,
    length_differs::RULE,
    listed_twice::RULE,
    listed_without_use::RULE,
    long_point_missing::RULE,
    long_safety_message::RULE,
    lost_list_entry::RULE,
    made_twice::RULE,
    match_drill_elsewhere::RULE,
    match_drill_too_early::RULE,
    match_drill_without_from::RULE,
    material_differs::RULE,
    material_not_known::RULE,
    measure_limits::RULE,
    measure_sides_differ::RULE,
    missing_alt_text::RULE,
    missing_character::RULE,
    missing_column::RULE,
    missing_file::RULE,
    missing_key::RULE,
    missing_opposite::RULE,
    missing_value::RULE,
    misspelt_column::RULE,
    more_than_there::RULE,
    never_closed::RULE,
    never_cut::RULE,
    never_holds::RULE,
    no_action_does_it::RULE,
    no_front_matter::RULE,
    no_manual::RULE,
    no_such_designation::RULE,
    no_tube_to_fit::RULE,
    not_as_supplied::RULE,
    not_begun::RULE,
    not_of_this_step::RULE,
    not_put_back::RULE,
    not_utf_8::RULE,
    nothing_to_do::RULE,
    number_as_value::RULE,
    number_not_changed::RULE,
    nut_does_not_suit::RULE,
    odd_unit::RULE,
    offset_differs::RULE,
    offset_on_other_side::RULE,
    offset_sides_differ::RULE,
    one_jig_one_hand::RULE,
    opens_nothing::RULE,
    opposite_unclear::RULE,
    opposites_differ::RULE,
    order_circle::RULE,
    order_open::RULE,
    outside_folder::RULE,
    own_fault::RULE,
    personal_data::RULE,
    picture_in_text::RULE,
    pieces_too_long::RULE,
    pin_does_not_fit::RULE,
    place_missing::RULE,
    quantity_mismatch::RULE,
    ragged_row::RULE,
    reamer_allowance::RULE,
    reference_not_here::RULE,
    refit_without_removal::RULE,
    release_otherwise::RULE,
    replaced_in_circle::RULE,
    rivet_closed_behind::RULE,
    rivet_diameter::RULE,
    rivet_length::RULE,
    role_unclear::RULE,
    saddle_misses::RULE,
    sentence_length::RULE,
    serial_without_number::RULE,
    shipped_count::RULE,
    shipped_place::RULE,
    shipped_unknown::RULE,
    stack_not_known::RULE,
    stale_acceptance::RULE,
    stick_archive::RULE,
    stick_file_size::RULE,
    stick_name::RULE,
    stick_size::RULE,
    stock_incomplete::RULE,
    stock_name_differs::RULE,
    substitute_unsuited::RULE,
    substitution_not_approved::RULE,
    table_too_large::RULE,
    table_twice::RULE,
    telescoping_fit::RULE,
    text_as_code::RULE,
    text_cut_off::RULE,
    text_names_another::RULE,
    text_too_deep::RULE,
    text_too_large::RULE,
    tightened_before_fitted::RULE,
    too_deep::RULE,
    tool_missing::RULE,
    tool_not_needed::RULE,
    torque_required::RULE,
    torque_too_high::RULE,
    torque_unlike_table::RULE,
    trim_differs::RULE,
    turnbuckle_wire::RULE,
    twin_sentence::RULE,
    two_lengths::RULE,
    two_readings::RULE,
    two_workbooks::RULE,
    unbending_rule::RULE,
    unclear_cell::RULE,
    unclear_condition::RULE,
    unknown_assembly::RULE,
    unknown_bond::RULE,
    unknown_column::RULE,
    unknown_condition::RULE,
    unknown_consumable::RULE,
    unknown_datum::RULE,
    unknown_figure::RULE,
    unknown_guide::RULE,
    unknown_hardware::RULE,
    unknown_joint_kind::RULE,
    unknown_key::RULE,
    unknown_link::RULE,
    unknown_option::RULE,
    unknown_part::RULE,
    unknown_release::RULE,
    unknown_rule::RULE,
    unknown_section::RULE,
    unknown_step::RULE,
    unknown_stock::RULE,
    unknown_tool::RULE,
    unknown_variant::RULE,
    unknown_word::RULE,
    unlike_condition::RULE,
    unlike_metals::RULE,
    unnamed_column::RULE,
    unproven_release::RULE,
    unread_file::RULE,
    unread_safety::RULE,
    unread_sheet::RULE,
    unreadable_characters::RULE,
    unreadable_file::RULE,
    unreadable_value::RULE,
    unusable_name::RULE,
    unused_figure::RULE,
    unused_hardware::RULE,
    unused_part::RULE,
    used_before_there::RULE,
    value_differs::RULE,
    value_not_of_step::RULE,
    value_without_unit::RULE,
    variant_circle::RULE,
    variant_conditions::RULE,
    variant_dropped::RULE,
    wide_table::RULE,
    wire_incomplete::RULE,
    wire_not_protected::RULE,
    written_twice::RULE,
    wrong_hand::RULE,
    wrong_type::RULE,
];
