/**
 * Words that say what a product is, not whose it is: kinds, parts, materials, uses, looks. In a headline every word is
 * capitalised; the name ends where the first of these stands. Singular, lower case; more join by need.
 */
const words = new Set(
  (
    "hazardous dangerous defective smoothtop smooth-top see-thru multi-purpose luminous montessori classic contemporary sodium hydroxide lye stainless sensory silicone busy " +
    "toaster rotisserie skillet roaster popper peeler mandoline torchiere chandelier sconce luminaire ballast inverter camera earbud router nailer chainsaw snowblower edger chipper splitter winch jack lift welder e-bike elliptical sterilizer bracket fastener rice-cooker icemaker sharpener stapler shredder projector typewriter " +
    "accessory action activity adapter adjustable adult air alarm all-in-one all-terrain aluminum animal appliance apparel assorted automatic aerial art artificial " +
    "baby bag ball balloon band bank bar barbecue barrel basket bassinet bath bathroom battery bead bear bed bedding bench beverage bib bicycle big bike biometric bladeless blade blanket blender blending block blower board boiler book boot bottle bowl brake bread breadmaker brewer brewing brew broiler building built-in bulb bunk burner button " +
    "cabinet cable cake camp camping can candle candy canister canopy cappuccino car carbon carbonated carbonation cart cartridge carving case ceiling center ceramic certain chafing chair changing charger charging chest child children chiller chlorine chopper christmas chrome circuit circulator clamp cleaner cleaning clip clock clothes clothing coat coffee coffeemaker coffee/tea cold collapsible color combination combo commercial compact component compressor computer condenser conditioner connector console container control controller convection convertible cook cooker cooking cooktop cookware cool cooler cooling copper cord corded cordless cotton counterfeit countertop cover covered crib cube cup curling curtain cutter cutting cycle cylinder " +
    "decorative deep deep-fat deep-fry defrost dehumidifier dehydrator deluxe desk desktop detector device diffuser digital direct dining disc dish dishwasher dispenser disposal disposer distiller diving dock doll door double dough down-draft drain drawer dresser drill drink drinking drip drive drone drop-in dryer dual dumbbell duplex dutch duty " +
    "easy egg electric electrical electronic elevator energy engine espresso espresso/cappuccino essential evaporative exercise exhaust expresso extension extractor " +
    "fabric fan farm fat faucet favor fidget figure fillet filter finger fire fireplace firework fitness fixed fixture flame flashlight flexible flip floor flooring foam folding food foot freestanding free-standing freezer french frother frozen fry fryer frying fuel full-size furnace furniture " +
    "game garage garbage garden garland garlic gas gas-fired gas-fueled gate generator glass glove glue golf grease grill griddle grinder grocery grow guide gun " +
    "hair halloween halogen hammer hammock hand handheld hand-held hanging hard harness headphone heat heated heater heating heat-gun heavy heavy-duty hedge helmet high high-chair holder holiday home hood hookup hose hot hot-water household hoverboard humidifier hybrid " +
    "ice iced ignition illuminated immersion incandescent inch indoor indoor/outdoor induction infant inflatable infrared infusion inline instant insulated iron island " +
    "jacket jar jewelry jug juice juicer jump " +
    "kerosene kettle keyboard kick kid kit kitchen kitchenware knife " +
    "ladder lamp lantern laptop large laser laundry lawn leaf led leg lens lid light lighted lighter lighting light-up liner lithium-ion living loader lock locking lotion lounge lounger low low-profile lunch " +
    "machine magnet magnetic maker massage massager mat mattress meat media medical medicated metal meter microphone microwave microwave-hood milk mini mirror mixer mobile modification monitor monoxide motor motorcycle motorized mount mountain mower mug multicooker multi-cooker multifunction multi-function multi-light multi-point multiple multipurpose musical " +
    "nail natural neck necklace night nightlight non-stick novelty nursing nursery " +
    "office oil oil-filled on/off open optimized organizer ornament oscillating ottoman outdoor outlet oven over-the-range " +
    "pacifier pack packet pad paint pan panel party pasta patio pedestal pellet pendant percolator personal pet phone photo piano pillow pitcher pizza plant plastic plate play player playset plug plush pocket pole pool popcorn porcelain port portable pot potpourri power pre-lit preserver press pressure printer processor product professional programmable projecting projector propane protective protector pruner pull pump pumpkin purifier push " +
    "quartz quick rack racket radiant radiator radio rail range rangetop razor reach-in receptacle rechargeable recliner recreational recycled reel refrigerator refrigerator-freezer regulator remote residential resistance resistant retractable ribbon rice ride-on ring robe robot robotic rocker rocket rolling roll-on room rope rotary rotating round rug " +
    "safe safety salt sander sandwich sauna saute sauté saw scale scarf school scissor scooter screwdriver sealer seat self-cleaning self-defrosting sensor series serving set sewing shade shaver shaving sheet shelf shirt shoe shop shower side-by-side simmer single sink skate skateboard slicer slide slide-in slider sling sleep sleeper slow small smart smoke smoker snow snowman soap socket soda sofa solar soldering sound soup space spa speaker speed sphere spinner sports spray sprayer spring sprinkler squeeze stackable stainless stainless-steel stand standing staple star starter station steam steamer steel stereo stick stirrer stool storage store stove stovetop strap string strip stroller stuffed style submersible suction sump sunlamp supplement supply suppressor surge swing switch swimming swivel system " +
    "table tablet tabletop tank tape tea teakettle tea-kettle teething television tent therapeutic thermal thermometer thermos thermostat thin-slice thinner three-wire throw tie tile tiller timer tip tire tool top torch touch tower toy track trailer trampoline transformer travel tray treadmill tree trimmer truck trunk tub tube tumbler turkey twin-size twinkling two-wheeled two-tone type " +
    "ultra ultrasonic ultraviolet under-cabinet under-counter undercounter under-the-cabinet under-the-counter underwater unit upright usb used utility " +
    "vacuum valve vanity vaporizer various vegetable vehicle vent ventilation vertical video vise visor volt " +
    "vac wading waffle walk-behind walker wall wall-mounted warmer warming washer washing waste watch water water-resistant wax waxing weed wet/dry wheelchair white wide wide-slot wind window wine wipe wire wireless wok wood wooden workout wrench writing " +
    "yard yoga youth zip zipline black blue brown gray green orange pink purple red silver yellow gold bronze woven"
  )
    .split(" ")
    .filter((word) => word !== ""),
);

/** Whether a headline's word says what the product is: a word of the list, a measure, or a number word with one. */
export function isProductWord(word: string): boolean {
  const bare = word
    .toLowerCase()
    .replace(/^(children|women|men|baby|kid|girl|boy|infant|toddler|adult)(?:[’']s|s[’'])$/, "$1")
    .replace(/[^\p{L}\p{N}/’'-]/gu, "");
  if (bare === "" || /^\d/.test(bare) || /^(?:one|two|three|four|five|six|nine|twelve|multi|self|all|semi|non|pre|anti)-/.test(bare))
    return true;
  if (/[’']s$/.test(bare)) return false;
  if (/^(?:and|or|with|for|in|of|to|from|the|a|by|at|through|under|over|on)$/.test(bare)) return true;
  if (bare.includes("-") && bare.split("-").every((part) => part !== "" && isProductWord(part))) return true;
  return words.has(bare) || words.has(bare.replace(/s$/, "")) || words.has(bare.replace(/es$/, "")) || words.has(bare.replace(/ies$/, "y"));
}
