import type { OccupantTextName } from "./occupant-text-name";

/** The texts of `occupant-texts-en.ts` in German. Signal words as in ISO 3864 and ANSI Z535 translations (from memory). */
export const germanTexts: Readonly<Record<OccupantTextName, string>> = {
  language_name: "Deutsch",
  word_DANGER: "GEFAHR",
  word_WARNING: "WARNUNG",
  word_CAUTION: "VORSICHT",
  word_NOTICE: "HINWEIS",

  subject: "Bitte nicht mehr benutzen: {appliance}, Etikett {tag}",
  subject_mild: "Zu Ihrem Gerät: {appliance}, Etikett {tag}",
  greeting: "Guten Tag,",
  greeting_name: "Guten Tag, {name},",
  about: "Es geht um dieses Gerät: {appliance} mit dem Etikett {tag}, hier: {place}.",
  next: "Wir melden uns bei Ihnen, wie es weitergeht. Bis dahin lassen Sie bitte alles so, wie es jetzt ist.",
  closing: "Vielen Dank. {organisation}",
  an_appliance: "ein Gerät",
  unit: "Wohnung {unit}",

  "hazard recall": "Es entspricht einem Rückruf: Es kann überhitzen, brennen oder einen Stromschlag geben.",
  "hazard over_rating":
    "Es nimmt mehr Leistung auf, als sein Typenschild zulässt: Es oder sein Kabel kann überhitzen und einen Brand auslösen.",
  "hazard lamp_too_strong": "Das Leuchtmittel darin ist zu stark: Die Leuchte kann überhitzen und einen Brand auslösen.",
  "hazard repeated_trips":
    "Es hat immer wieder die Sicherung ausgelöst: Es kann einen Fehler haben, der einen Stromschlag gibt oder einen Brand auslöst.",
  "hazard outlet_overload": "Die Steckdose, an der es hängt, ist überlastet: Steckdose oder Stecker können überhitzen.",
  "hazard circuit_overload": "Der Stromkreis, an dem es hängt, ist überlastet: Leitungen oder Klemmen können überhitzen.",
  "hazard lost_neutral":
    "Der Anschluss zeigt Anzeichen eines unterbrochenen Neutralleiters: Geräte können brennen oder einen Stromschlag geben.",
  "hazard high_voltage": "Die Netzspannung ist zu hoch dafür: Es kann Schaden nehmen und überhitzen.",
  "hazard low_voltage": "Die Netzspannung ist zu niedrig dafür: Motoren und Kompressoren können überhitzen.",
  "hazard drift": "Es nimmt mehr Leistung auf als früher: Etwas darin kann verschlissen oder verstopft sein.",
  "hazard use_limit": "Es hat mehr Energie verbraucht als vereinbart: Vielleicht ist es angeblieben.",
  "hazard drawing_out_of_use":
    "Es wurde außer Betrieb genommen, und die Messwerte zeigen, dass es benutzt wird: Es kann überhitzen, brennen oder einen Stromschlag geben.",
  "hazard by hand": "Wer es angesehen hat, hält es für möglicherweise nicht sicher.",
  hazard_words: "Der Rückruf sagt zur Gefahr (im Wortlaut):",

  stop: "NICHT MEHR BENUTZEN.",
  stop_unplug: "Ziehen Sie den Stecker, wenn er kühl und trocken ist.",
  stop_hot:
    "Wenn es riecht, raucht oder zu heiß zum Anfassen ist, fassen Sie es nicht an: Schalten Sie die Sicherung aus, wenn das ohne Gefahr geht, verlassen Sie den Raum und rufen Sie den Notruf.",
  stop_medical:
    "Wenn Gesundheit oder Leben eines Menschen davon abhängt, ziehen Sie nicht einfach den Stecker: Sprechen Sie zuerst mit diesem Menschen und mit uns.",
  stop_keep: "Reparieren Sie es nicht, verkaufen oder verschenken Sie es nicht, und werfen Sie es nicht in den Hausmüll.",
  care: "Benutzen Sie es nur, solange Sie dabei sind.",
  care_stop:
    "Benutzen Sie es nicht weiter, wenn es riecht, raucht, brummt, die Sicherung auslöst oder heißer als sonst wird, und rufen Sie uns an.",
  care_breaker: "Schalten Sie eine Sicherung nicht immer wieder ein, und setzen Sie nie eine stärkere ein.",
  remedy: "Was der Rückruf {number} anbietet (im Wortlaut):",
  remedy_contact: "Ansprechstelle des Rückrufs:",

  call: "Rufen Sie an: {contact}, {phone}.",
  call_mail: "Oder schreiben Sie an {email}.",
  call_nobody: "Rufen Sie die Hausverwaltung an.",
  fire: "Bei Feuer oder Lebensgefahr rufen Sie zuerst den Notruf.",
  link_words:
    "Hier können Sie melden, dass der Stecker gezogen ist, ein Foto schicken oder eine Frage beantworten. Sie brauchen keine Anmeldung, und das Öffnen allein ändert nichts:",
  link_scan: "Oder mit dem Telefon scannen:",
  small_print:
    "Diese Nachricht beruht auf Messwerten und veröffentlichten Rückrufen; sie ist keine Prüfung. Örtliche Vorschriften, die Behörden und eine Elektrofachkraft gehen vor. Ein Gerät, von dem Sie nichts hören, ist deshalb nicht sicher.",

  page_title: "Ihr Gerät",
  page_lead: "Von {organisation}. Diese Seite zeigt nur dieses eine Gerät.",
  page_settled:
    "Das ist erledigt: Hier ist für Sie nichts mehr zu tun. Rufen Sie an, wenn Sie nicht sicher sind, ob Sie es benutzen dürfen.",
  page_closed: "Dieser Link gilt nicht mehr. Bitten Sie den Absender um einen neuen.",
  page_unknown: "Dieser Link ist nicht von uns: Kopieren Sie ihn ganz, oder bitten Sie um einen neuen.",
  what: "Gerät",
  maker: "Hersteller",
  model: "Modell",
  serial: "Seriennummer",
  tag: "Etikett",
  where: "Ort",
  unplugged_head: "Ist der Stecker gezogen?",
  unplugged_tick: "Ich habe den Stecker gezogen, und niemand steckt ihn wieder ein",
  unplugged_button: "Melden, dass der Stecker gezogen ist",
  unplugged_tick_first: "Kreuzen Sie an, dass der Stecker gezogen ist, und senden Sie dann.",
  unplugged_done: "Sie haben am {date} gemeldet, dass der Stecker gezogen ist. Vielen Dank. Lassen Sie es so, bis Sie von uns hören.",
  photo_head: "Ein Foto",
  photo_pick: "Foto, höchstens 20 MB: das Typenschild, der Stecker, oder was Ihnen Sorgen macht",
  photo_note: "Was es zeigt",
  photo_hint: "Es wird ohne Ort, Zeit und Kamera aufbewahrt.",
  photo_button: "Foto senden",
  photo_kept: "Gesendet am {date}",
  photo_failed:
    "Das Foto konnte nicht aufbewahrt werden. Senden Sie ein Foto (JPEG, PNG, WebP) oder ein PDF von höchstens 20 MB, insgesamt höchstens 20.",
  question_head: "Eine Frage",
  question_lead:
    "Es hilft zu wissen, was auf dem Typenschild oder der Unterseite steht. Öffnen Sie das Gerät nicht, und ziehen Sie den Stecker, bevor Sie es umdrehen.",
  question_brand: "Welcher Hersteller steht darauf?",
  question_model: "Welches Modell steht darauf?",
  question_serial: "Welche Seriennummer steht darauf?",
  question_dateCode: "Welcher Datumscode steht darauf?",
  question_made: "Wann wurde es hergestellt? Schreiben Sie JJJJ, JJJJ-MM oder JJJJ-MM-TT.",
  question_product: "Was für ein Gerät ist es?",
  question_upc: "Welche Nummer steht unter den Strichen auf der Verpackung?",
  question_field: "Was darauf steht",
  question_button: "Antwort senden",
  question_done: "Vielen Dank. Es wurde weitergegeben. Lassen Sie den Stecker gezogen, bis Sie von uns hören.",
  question_wrong:
    "Das konnte nicht aufbewahrt werden: Schreiben Sie nur, was gefragt ist, höchstens 200 Zeichen, und ein Datum als JJJJ-MM-TT.",
  question_gone: "Diese Frage ist inzwischen geklärt. Vielen Dank.",
  too_late: "Das geht nicht mehr: Öffnen Sie den Link noch einmal.",

  tag_title: "Etikett {tag}",
  tag_do_not_use: "DIESES GERÄT NICHT BENUTZEN.",
  tag_call: "Wenn Ihnen an diesem Gerät etwas Sorgen macht, oder wenn Sie es gefunden haben:",
  tag_unknown: "Dieses Etikett ist hier nicht bekannt: Sehen Sie noch einmal nach, und geben Sie alle Zeichen ein.",
  other_language: "In English",

  sheet_title: "NICHT BENUTZEN",
  sheet_words: "Dieses Gerät wurde außer Betrieb genommen.",
  sheet_keep: "Nicht einstecken, nicht reparieren, und dieses Blatt nicht entfernen.",
  sheet_since: "Außer Betrieb seit {date}",
  sheet_since_unknown: "Außer Betrieb",
  sheet_call: "Fragen",
  sheet_scan: "Scannen: wen Sie anrufen können",
};
