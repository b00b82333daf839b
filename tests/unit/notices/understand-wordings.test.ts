import { describe, expect, it } from "vitest";
import { understand } from "@/lib/notices/understand";
import { inventedNotice } from "./invented-notice";

const read = (description: string) => understand(inventedNotice({ description }));
const text = (window: { pattern: string } | { from: string | null; to: string | null }) =>
  "pattern" in window ? window.pattern : `${window.from ?? ""}..${window.to ?? ""}`;

/** Ways to say which models are covered; an empty list where the sentence names none. */
const models: [sentence: string, include: string][] = [
  ["The lamps were manufactured in China.", ""],
  ["The fans were sold from May 2001 to June 2002.", ""],
  ["This recall involves model numbers LF200, LF210 and LF220.", "LF200 LF210 LF220"],
  ["This recall involves model LF200 in black, white or red, and model LF-210 sold from 2010 to 2012.", "LF200 LF-210"],
  ["Models LF200A, B and C are included.", "LF200A LF200B LF200C"],
  ["Model number 5042 followed by the letter A, B or C.", "5042A 5042B 5042C"],
  ["Models QX100B (black), QX100W (white) and QX100R (red) are included.", "QX100B QX100W QX100R"],
  ["Models LF200-B, -W and -S are included.", "LF200-B LF200-W LF200-S"],
  ["Model numbers 42-1234 through 42-1237.", "42-1234 42-1235 42-1236 42-1237"],
  ["Model LF200 (B, W or S) is included.", "LF200B LF200W LF200S"],
  ["Model numbers beginning with LF2, LF3 or LF4.", "LF2* LF3* LF4*"],
  ["LF200 series heaters are included.", "LF200*"],
  ["The model number, LF-200, is on the bottom. No other models are included.", "LF-200"],
  ["Models QDC 1, 2 and 3 are included.", "QDC_1 QDC_2 QDC_3"],
  ["MODEL NO. Q2200 TY1 is stamped on the back.", "Q2200"],
  [
    "The refrigerators with Tavish compressors with model number QLE11 are included. The following refrigerator models are included: LF-47, LF-49 and LF-72.",
    "LF-47 LF-49 LF-72",
  ],
  ["Model number LF200 was recalled in June 2011. This recall involves model LF300 fans.", "LF300"],
  ["This recall involves model LF300 fans. Some of these were replacements for model LF200 fans recalled in June 2011.", "LF300"],
  ["This recall expansion adds model LF300. The original recall in May 2010 involved model LF200.", "LF300"],
  ["Item number 123456 and UPC 012345678905.", "123456"],
  ["The part number of the replacement cord is 44-120.", ""],
  ["This recall involves the Larkfield Aria and Brio heaters, with model numbers 20-100 and 20-200.", "20-100 20-200"],
  ["Model numbers: LF-1*, LF-2* where * is any digit.", "LF-1# LF-2#"],
  ["Model number LF2xx, where xx is 10 to 30.", "LF2??"],
  ["The model number is LF200 or LF200-1.", "LF200 LF200-1"],
  ["The model numbers are LF-20, 21, 22 and 23.", "LF-20 LF-21 LF-22 LF-23"],
  ["Model 1200 series, 1300 series and 1400 series.", "1200* 1300* 1400*"],
  ["Models 398 with a black exterior and 405 with a white one.", "398 405"],
  ["Type 8215 and type KD-12 irons.", "8215 KD-12"],
  ["Style # 4410 and style # 4420.", "4410 4420"],
  ["The recalled fans were sold under SKU numbers 1001234567 and 1001234568.", "1001234567 1001234568"],
  ["Model A100 (SKU 123-456), model A200 (SKU 123-457).", "A100 123-456 A200 123-457"],
  ["Model numbers LF200 and LF210 with or without the suffix R.", "LF200 LF210 LF200R LF210R"],
  ["The recall includes all models.", ""],
  [
    "The heater has 5 settings, weighs 12 lbs. and draws 1500 watts at 120V. Call (800) 555-0123 between 9 a.m. and 5 p.m. Release 10-123.",
    "",
  ],
  ["Model No. LF-200 and its variants LF-200A through LF-200D are recalled.", "LF-200 LF-200A LF-200B LF-200C LF-200D"],
  ["Catalog number 33-4455 and reference no. R5566 are on the packaging.", "33-4455 R5566"],
  ["Model “Aria 5” is written on the front.", "Aria_5"],
  ["Recalled models: LF200/LF210/LF220.", "LF200 LF210 LF220"],
  ["Model LF200B/W/S.", "LF200B LF200W LF200S"],
  ["Model Numbers: LF 200, LF 210.", "LF_200 LF_210"],
  ["The number LF200 is stamped on the base.", "LF200"],
  ["Fans with date codes after 0512 are not included in this recall. Model LF-10 is.", "LF-10"],
  ["Model LF-10 fans with the suffix B are not included in this recall. Model LF-10 fans were sold in white.", "LF-10"],
  ["Consumers will receive a replacement model LF-25. This recall involves model LF-10.", "LF-10"],
  ["This recall involves model LF-10, which was replaced by model LF-25 in 2019.", "LF-10"],
  ["Model LF-10 is compatible with model LF-25 chargers.", "LF-10"],
  ["The heaters were sold under model numbers LF-10 (white), LF-20 (black), and LF-30 (red) and UPC 012345678905.", "LF-10 LF-20 LF-30"],
  ["This recall involves Larkfield Aria (model LF-10), Brio (model LF-20) and Cedra (model LF-30) heaters.", "LF-10 LF-20 LF-30"],
  ["The following are included: LF-10, LF-20 and LF-30 heaters.", "LF-10 LF-20 LF-30"],
  ["The recalled heaters are Larkfield models 10, 20 and 30.", "10 20 30"],
  ["The model number is in the format LF-10-XXX, where XXX is a color code.", "LF-10-???"],
  ["Item numbers 12345, 12346, and 12347 are printed on the hang tag.", "12345 12346 12347"],
  ["Item #s 12345 & 12346.", "12345 12346"],
  ["Model nos. LF-10 and LF-20.", "LF-10 LF-20"],
  ["Model #: LF-10; Model #: LF-20.", "LF-10 LF-20"],
  ["The heaters' model number, LF-10 or LF-20, can be found on the back.", "LF-10 LF-20"],
  ["Model numbers 1000, 1000A, 1000B; 2000, 2000A.", "1000 1000A 1000B 2000 2000A"],
  ["This recall includes the 2018 LF-10, the 2019 LF-20 and the 2020 LF-30 heaters.", "LF-10 LF-20 LF-30"],
  ["The dehumidifiers have model numbers that include: LF-10, LF-20.", "LF-10 LF-20"],
  ["The dresser is identified by item number 4410-50 on the label.", "4410-50"],
  ["Product code 4410-50 and product code 4410-60.", "4410-50 4410-60"],
  ["The part number 4410-50 is embossed on the underside of the seat.", "4410-50"],
  ["The recalled chairs have model number “LF10” and PO number 44120 printed on the tag.", "LF10"],
  ["The model number LF10 is on the label along with FCC ID: 2AB-LF10 and E123456.", "LF10"],
  ["The lamps have style numbers 4-1200 and 4-1300.", "4-1200 4-1300"],
  ["The lamp's style number is Q-12.", "Q-12"],
  ["The 18-inch (model LF18) and 24-inch (model LF24) grills are recalled.", "LF18 LF24"],
  ["Models LF-10 and LF-20 were sold with the LF-99 remote control.", "LF-10 LF-20"],
  ["Larkfield LF-10 heaters were sold from 2010 to 2012 for $40.", "LF-10"],
  ["Model numbers from LF-100 to LF-104 are recalled.", "LF-100 LF-101 LF-102 LF-103 LF-104"],
  ["Model numbers LF100–LF104 are recalled.", "LF100 LF101 LF102 LF103 LF104"],
  ["Model numbers LF100-LF104 are recalled.", "LF100 LF101 LF102 LF103 LF104"],
  ["The model number starts with the letters LF followed by 3 digits.", "LF###"],
  ["The model number starts with LF and is followed by three digits and a letter.", "LF###@"],
  ["The model numbers are LF10 and LF20 followed by a two-letter color code.", "LF10@@ LF20@@"],
  ["Model numbers: 123.45678, 123.45679.", "123.45678 123.45679"],
  ["Model number 110.12345678.", "110.12345678"],
  ["Models C-10, C-20 and D-5/D-6.", "C-10 C-20 D-5 D-6"],
  ["The model number is LF10W, LF10B or LF10S, depending on the color.", "LF10W LF10B LF10S"],
  ["Models: LF10 / LF20 / LF30.", "LF10 LF20 LF30"],
  ["Model: LF10, Color: White, Model: LF20, Color: Black.", "LF10 LF20"],
  ["This recall involves all Larkfield kettles with model number KE-500.", "KE-500"],
  ["The model name and number, Aria LF10, is on the base.", "LF10"],
  ["The recalled blenders, known as the BL-10 and BL-20, were sold in red.", "BL-10 BL-20"],
  ["There are five digits in the model number and the unit weighs 12 pounds.", ""],
  ["The model year is 2018.", ""],
  ["Consumers should have the model number ready when calling 800-555-0142, extension 4410.", ""],
  ["The heater has model and serial numbers on a label that measures 2 by 3 inches.", ""],
  ["About 12,400 units of various models were sold in 50 states for $19.99.", ""],
  ["The heaters comply with UL 1278 and were sold at 1200 stores; the firm is at 4410 Main Street, Suite 300.", ""],
  ["Model numbers are listed at the firm's website; see item 4 on page 12.", ""],
];

/** Ways to say that a model is not covered. */
const exclusions: [sentence: string, include: string, exclude: string][] = [
  ["Model numbers LF200, LF210 and LF220. Model LF230 is not included in this recall.", "LF200 LF210 LF220", "LF230"],
  ["Only model LF-200 is included; models LF-201 and LF-202 are not affected.", "LF-200", "LF-201 LF-202"],
  ["The incorrect model numbers were LF90 and LF91. The correct model numbers are LF900 and LF910.", "LF900 LF910", "LF90 LF91"],
  ["Heaters with model numbers LF200 to LF205, excluding LF203, are included.", "LF200 LF201 LF202 LF204 LF205", "LF203"],
  ["Model numbers LF200, LF201 (excluding LF203) and LF204.", "LF200 LF201 LF204", "LF203"],
  ["The recall does not include models LF900 and LF901.", "", "LF900 LF901"],
  ["Not included are models LF900 and LF901.", "", "LF900 LF901"],
  ["Models LF900 and LF901 are unaffected.", "", "LF900 LF901"],
  ["Only LF200 models are part of this recall, not LF300.", "LF200", "LF300"],
  ["Models LF200, LF201, and LF202, but not LF203, are included.", "LF200 LF201 LF202", "LF203"],
  ["Models with an R at the end of the model number, such as LF200R, are not included. Model LF200 is included.", "LF200", "LF200R"],
  ["This recall involves model LF-10. Model LF-25 is excluded from this recall.", "LF-10", "LF-25"],
  ["This recall involves model LF-10. Models LF-25 and LF-26 are not subject to the recall.", "LF-10", "LF-25 LF-26"],
  ["This recall involves model LF-10. It does not apply to models LF-25 or LF-26.", "LF-10", "LF-25 LF-26"],
  ["This recall involves model LF-10. Consumers with model LF-25 do not need to take any action.", "LF-10", "LF-25"],
  ["Model LF-10 is being recalled. The similar model LF-25 is safe to use.", "LF-10", "LF-25"],
  ["This recall involves model LF-10 only. The LF-25 model was redesigned and is not part of this recall.", "LF-10", "LF-25"],
  ["Models LF-10 and LF-20 are included. Excluded: LF-25, LF-26.", "LF-10 LF-20", "LF-25 LF-26"],
  ["All LF models (excluding LF-25) with model numbers LF-10, LF-20 and LF-30 are included.", "LF-10 LF-20 LF-30", "LF-25"],
  ["Model numbers LF-10 through LF-14 with the exception of LF-12 are included.", "LF-10 LF-11 LF-13 LF-14", "LF-12"],
  ["Model numbers beginning with LF, other than LF-25, are included.", "LF*", "LF-25*"],
  ["Recalled model numbers: LF-10, LF-20. Not recalled: LF-25, LF-26.", "LF-10 LF-20", "LF-25 LF-26"],
  ["Neither model LF-25 nor model LF-26 is included in this recall. Model LF-10 is.", "LF-10", "LF-25 LF-26"],
  ["Model LF-10 is recalled. Model LF-25, which has a metal base, isn't affected.", "LF-10", "LF-25"],
  ["Model LF-10 is recalled. The newer LF-25 fans are not involved in this recall.", "LF-10", "LF-25"],
  ["This recall involves model LF-10; however, model LF-25 is not involved.", "LF-10", "LF-25"],
  ["Only model LF-10 is affected. Models LF-25 and LF-26 are NOT affected.", "LF-10", "LF-25 LF-26"],
  ["The recalled fan is model LF-10. If the model number on your fan is LF-25, your fan is not included in this recall.", "LF-10", "LF-25"],
  ["This recall does not involve model LF-25, LF-26, or LF-27. It involves model LF-10.", "LF-10", "LF-25 LF-26 LF-27"],
  ["No other models, including LF-25 and LF-26, are affected. Model LF-10 is affected.", "LF-10", "LF-25 LF-26"],
  ["Models LF-10 and LF-20 (but not LF-25) are recalled.", "LF-10 LF-20", "LF-25"],
  [
    "Models LF-10 and LF-20 are recalled. Models LF-25 and LF-26 have been discontinued and aren't subject to this recall.",
    "LF-10 LF-20",
    "LF-25 LF-26",
  ],
];

/** Windows over serial numbers: a pattern or `from..to`. */
const serials: [sentence: string, windows: string][] = [
  [
    "The grills have serial numbers beginning with the letters A, B or C followed by numbers between 10001 and 20500.",
    "A10001..A20500 B10001..B20500 C10001..C20500",
  ],
  ["The serial number range is from 1234A through 5678A.", "1234A..5678A"],
  ["Serial numbers included: LK0001-LK0999.", "LK0001..LK0999"],
  ["Units with serial numbers less than 4500123 are included in this recall.", "..4500123"],
  ["Units with serial numbers lower than QT4500 are included in this recall.", "..QT4500"],
  ["Recalled dehumidifiers have serial numbers containing the letters KM in the fifth and sixth positions.", "????KM*"],
  ["Dishwashers with the first two digits of the serial number between 20 and 24 are included.", "20* 21* 22* 23* 24*"],
  ["Only serial numbers that start with FA, FB, FC or FD and have 12 as the last two digits are included.", "FA*12 FB*12 FC*12 FD*12"],
  ["The serial number starts with 16 through 18 (for example 16xxxx).", "16* 17* 18*"],
  ["Serial numbers LK100 to LK200, LK300 to LK400, and LK900 are included.", "LK100..LK200 LK300..LK400 LK900"],
  ["The serial number (S/N) is between 2010050001 and 2010129999.", "2010050001..2010129999"],
  ["Serial numbers: 150001 – 150999, 160001 – 160450.", "150001..150999 160001..160450"],
  ["The serial number is a nine-digit number beginning with 2306.", "2306*"],
  ["Serial numbers end in A, B, or C.", "*A *B *C"],
  ["The recall includes units with serial numbers up to and including 67310.", "..67310"],
  ["The recall includes units with serial number 31500 and higher.", "31500.."],
  ["Serial numbers from AB0101001 to AB1231999 and beginning with CD are included.", "AB0101001..AB1231999 CD*"],
  ["Serial numbers beginning with 1A, 1B, 1C; 2A, 2B.", "1A* 1B* 1C* 2A* 2B*"],
  ["Serial No. LK-123456 through LK-234567 are affected.", "LK-123456..LK-234567"],
  ["They have serial numbers in the range 0800001 to 0899999 or 0900001 to 0912000.", "0800001..0899999 0900001..0912000"],
  [
    "The serial numbers of the recalled fans start with the letter T, U, V or W and the next two digits are 01 through 04.",
    "T01* T02* T03* T04* U01* U02* U03* U04* V01* V02* V03* V04* W01* W02* W03* W04*",
  ],
  [
    "Model LF-10 fans with serial numbers 1000 to 2000 are included. Units with serial numbers 2001 and higher are not included.",
    "1000..2000",
  ],
  ["The fans have model number LF-10 or LF-20 and a serial number beginning with 18 or 19.", "18* 19*"],
  ["Units with serial numbers between QD100 and QD200 (inclusive) are included.", "QD100..QD200"],
  ["Serial number range: QD100-QD200; QD300-QD400.", "QD100..QD200 QD300..QD400"],
  ["Serial numbers 0A100 through 9Z999.", "0A100..9Z999"],
  ["Serial numbers beginning 0712, 0801 and 0802.", "0712* 0801* 0802*"],
  ["The serial number must begin with either M or N and end with the letters AB.", "M*AB N*AB"],
  ["The serial number is printed as S/N: QD1234567 through QD1239999.", "QD1234567..QD1239999"],
  ["Serial numbers greater than 500100 and less than 500900 are included.", "500100..500900"],
  ["Serial numbers from 500100 and up are included.", "500100.."],
  ["Serial numbers at or below 500100 are included.", "..500100"],
  ["Serial number QD500100 or lower.", "..QD500100"],
];

/** Windows over date codes. */
const dateCodes: [sentence: string, windows: string][] = [
  [
    "The date code is four digits; codes 3402 through 1203 are included, where the first two digits are the week and the last two digits are the year.",
    "3402..1203",
  ],
  [
    "Date codes 0145 through 0152 are included. The first two digits indicate the year and the last two digits indicate the week.",
    "0145..0152",
  ],
  [
    "The date code consists of three digits. The first digit is the year and the last two digits are the week. Date codes 423 through 512 are included.",
    "423..512",
  ],
  ["Date codes 20150301 through 20160430 in the format YYYYMMDD are included.", "20150301..20160430"],
  ["The date code, in MMDDYY format, is between 010318 and 063018.", "010318..063018"],
  ["Six-digit date codes with the two middle digits between “21” and “24” and ending in “04” are included.", "??2104 ??2204 ??2304 ??2404"],
  ["Only fans with date codes 10/95 through 3/96 are included.", "10/95..3/96"],
  ["Only fans with date codes 05-2015 to 11-2015 are included.", "05-2015..11-2015"],
  ["The date codes between 03.14.2029 and 05.17.2029 are under the barcode.", "03.14.2029..05.17.2029"],
  ["A date code of DEC 2029 is stamped into the ramp.", "DEC_2029"],
  ["Only units with date code A1, A2, B1 or B2 are recalled.", "A1 A2 B1 B2"],
  ["Batch codes L2405, L2406 and L2407 are included.", "L2405 L2406 L2407"],
  ["The lot numbers are 1504, 1505 and 1506.", "1504 1505 1506"],
  ["The lot number begins with 15.", "15*"],
  ["Lot # 24-0113 is printed on the box.", "24-0113"],
  ["The date code ends in 04 or 05.", "*04 *05"],
  ["Only coffeemakers with date codes of 0410 or earlier are included.", "..0410"],
  ["Date codes 2319, 2320, 2321 and 2401-2410 are included.", "2319 2320 2321 2401..2410"],
  ["Date codes QL101 running through QL158 are included.", "QL101..QL158"],
  [
    "The date code is located on the blade of the plug. The following date codes are included: 914 through 926, 001 through 016.",
    "914..926 001..016",
  ],
  ["The run numbers are 4410, 4420 and 4430.", "4410 4420 4430"],
  ["Model LF-10 without the letter R after the date code 0512 is included.", "0512"],
  ["The fans have a manufacture date code between 1015 and 2015, representing the 10th and 20th week of 2015.", "1015..2015"],
  ["Batch numbers LK1, LK2 and LK3 are printed on the base.", "LK1 LK2 LK3"],
  ["Lot numbers 18A through 18F are included.", "18A..18F"],
  ["Lot codes 0123 to 0145 and 0201.", "0123..0145 0201"],
  ["The date code, 1812 or 1901, is stamped on the bottom.", "1812 1901"],
  ["Date code range: 1812 – 1901.", "1812..1901"],
  ["Manufacture date codes of 09F through 12F.", "09F..12F"],
  ["The date code on the plug is between 9801 and 9852 (1998).", "9801..9852"],
  ["Fans with date codes “A98” through “L98” are included, where the letter is the month.", "A98..L98"],
];

/** Windows of manufacture. */
const made: [sentence: string, windows: string][] = [
  ["The fans were manufactured between 10/95 and 3/96.", "1995-10-01..1996-03-31"],
  ["The fans were manufactured from 6-98 through 2-99.", "1998-06-01..1999-02-28"],
  ["The fans were manufactured in the first quarter of 1990.", "1990-01-01..1990-03-31"],
  ["The fans were made in the second half of 1999.", "1999-07-01..1999-12-31"],
  ["The fans were made in May, June or July 2010.", "2010-05-01..2010-07-31"],
  ["The heaters were produced from September 1991 to early 1993.", "1991-09-01..1993-12-31"],
  ["The heaters were manufactured before July 2003.", "..2003-06-30"],
  ["The heaters were manufactured on or after July 1, 2003.", "2003-07-01.."],
  ["The heaters were manufactured after July 1, 2003 and before May 2, 2005.", "2003-07-02..2005-05-01"],
  ["The heaters were manufactured on March 3, 2014 or March 4, 2014.", "2014-03-03..2014-03-04"],
  ["The date of manufacture is January 2015 to March 2015.", "2015-01-01..2015-03-31"],
  ["The manufacture date, 2015-03, is on the label.", "2015-03-01..2015-03-31"],
  ["Units made during 1996 and 1997 are included.", "1996-01-01..1997-12-31"],
  ["The manufacture dates range from 11/2014 to 02/2015.", "2014-11-01..2015-02-28"],
  ["The kettles were built from Jan. 1, 2010 through Dec. 31, 2011.", "2010-01-01..2011-12-31"],
  ["The manufacturing date code is between January 2016 and May 2017.", "2016-01-01..2017-05-31"],
  ["The fans were manufactured in China from May 2001 to June 2002.", "2001-05-01..2002-06-30"],
  ["The fans were manufactured in 2009, 2010 and 2011.", "2009-01-01..2011-12-31"],
  ["The fans were manufactured and sold from May 2001 to June 2002.", "2001-05-01..2002-06-30"],
  ["The fans were produced since 1978.", "1978-01-01.."],
  ["Heaters manufactured in or before 1998 are included.", "..1998-12-31"],
  ["Heaters manufactured as early as May 1998 through June 1999 are included.", "1998-05-01..1999-06-30"],
  ["Heaters manufactured between Sept. '97 and Feb. '98 are included.", "1997-09-01..1998-02-28"],
  ["Heaters manufactured from the 10th week of 2018 through the 12th week of 2018 are included.", "2018-03-05..2018-03-25"],
  ["Model LF10, manufactured by Tavish in 2018, measures 12 x 14 x 20 inches and has ASIN B0QZ1LK7WD.", "2018-01-01..2018-12-31"],
  ["The fans were manufactured between weeks 10 and 20 of 2015.", "2015-03-02..2015-05-17"],
  ["The units were produced between 06/2014 and 09/2014.", "2014-06-01..2014-09-30"],
  ["The manufacture date (MM/YYYY) is between 06/2014 and 09/2014.", "2014-06-01..2014-09-30"],
  ["They were manufactured from 6/12/2014 to 9/30/2014.", "2014-06-12..2014-09-30"],
  ["They were manufactured on June 12, 2014, June 13, 2014, and July 1, 2014.", "2014-06-12..2014-06-13 2014-07-01..2014-07-01"],
  ["Date of manufacture: 2014/06 - 2014/09.", "2014-06-01..2014-09-30"],
  ["The production dates are between 20140612 and 20140930.", "2014-06-12..2014-09-30"],
  [
    "The kettles made before April 28, 1994 are covered. No units made on or after April 28, 1994 are involved in this recall.",
    "..1994-04-27",
  ],
];

const printed = (values: readonly string[]) => values.map((value) => value.replaceAll(" ", "_")).join(" ");

describe("models as notices word them", () => {
  it.each(models)("%s", (sentence, include) => {
    expect(printed(read(sentence).models.include)).toBe(include);
    expect(read(sentence).models.exclude).toEqual([]);
  });
});

describe("exclusions as notices word them", () => {
  it.each(exclusions)("%s", (sentence, include, exclude) => {
    const stated = read(sentence).models;
    expect([printed(stated.include), printed(stated.exclude)]).toEqual([include, exclude]);
  });
});

describe("serial numbers as notices word them", () => {
  it.each(serials)("%s", (sentence, windows) => {
    expect(printed(read(sentence).serials.map(text))).toBe(windows);
  });
});

describe("date codes as notices word them", () => {
  it.each(dateCodes)("%s", (sentence, windows) => {
    expect(printed(read(sentence).dateCodes.map(text))).toBe(windows);
  });
});

describe("manufacture as notices word it", () => {
  it.each(made)("%s", (sentence, windows) => {
    expect(printed(read(sentence).made.map(text))).toBe(windows);
  });
});
