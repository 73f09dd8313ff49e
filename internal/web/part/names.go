package part

// names are what the figures of a plan are called, by key, on its own page and
// beside another plan's.
var names = map[string]string{
	"promise_pct":                  "Promise kept",
	"sheets_to_pull":               "Sheets to pull",
	"sheets_couched":               "Couched sheets, with the tests",
	"formed_long_mm":               "Formed, long side",
	"formed_short_mm":              "Formed, short side",
	"dry_long_mm":                  "Dry, long side",
	"dry_short_mm":                 "Dry, short side",
	shrinks:                        "Shrinkage, long side",
	"fibre_air_dry_g":              "Fibre off the shelf",
	"fibre_bone_dry_g":             "The same, bone-dry",
	"fibre_in_sheets_g":            "Fibre in the sheets",
	"heel_fibre_g":                 "Fibre left in the vat at the end",
	"conditioned_mass_per_sheet_g": "Weight of a sheet",
	"dry_solids_per_sheet_g":       "Bone-dry solids in a sheet",
	"fibre_per_sheet_g":            "Fibre in a sheet",
	"beater_loads":                 "Beater loads",
	"beater_load_g":                "Each load, bone-dry",
	"beater_hours":                 "At the beater, all loads",
	"vat_consistency_g_l":          "Vat consistency",
	"vat_first_fill_g":             "Solids in the first fill",
	"vat_first_fill_l":             "Stock in the first fill",
	"sheets_per_recharge":          "Recharge after every",
	"recharge_solids_g":            "Solids in a recharge",
	"recharge_stock_ml":            "Stock in a recharge",
	"recharge_jugs":                "Each time, by your jug",
	"level_stock_g_l":              "Stock this thick keeps the vat level",
	"level_rise_l":                 "With your stock the vat would rise by",
	"grammage_g_m2":                "Grammage, in the room's air",
	"share_within_pct":             "Sheets within the weight",
	"test_weight_g":                "The test sheets should weigh, together",
	"post_sheets":                  "Sheets in a post",
	"posts":                        "Posts",
	"post_weight_kg":               "The fullest post weighs",
	"press_pressure_kpa":           "Pressure on the sheets",
	"water_after_press_kg":         "Water still in them",
	"dryer_loads":                  "Dryer loads",
	"drying_hours":                 "Drying",
	"hands_on_hours":               "Your hands",
	"elapsed_days":                 "Soaking to packed",
	"cost_total":                   "Cost of the making",
	"cost_per_good_sheet":          "Cost of a good sheet",
	"crowding":                     "Crowding number of the fibres",
	"caliper_mm":                   "Caliper",
	"density_g_cm3":                "Density",
	"bulk_cm3_g":                   "Bulk",
	"size_on_sheet_pct":            "Size on the dry sheet",
	"size_bath_l":                  "Size bath to make up",
	"size_g":                       "Size for it",
	"cost_work":                    "Work",
	"cost_materials":               "Materials",
	"cost_overhead":                "Overhead",
	"price_floor_shop":             "Least price in a shop that takes half",
	"sheets_possible":              "Good sheets it can make",
}

// FigureName is what a figure is called: by its key, else by its own name.
func FigureName(key, own string) string {
	if n, ok := names[key]; ok {
		return n
	}
	return Upper(own)
}
