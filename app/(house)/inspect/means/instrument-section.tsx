import { ActionForm } from "@/app/_ui/action-form";
import { Acts, Button } from "@/app/_ui/button";
import { Code } from "@/app/_ui/code";
import { cell, DataTable, spokenColumn, TableHead } from "@/app/_ui/data-table";
import { FieldColumns, TextField } from "@/app/_ui/field";
import { FormId } from "@/app/_ui/form-id";
import { SideSection } from "@/app/_ui/side-section";
import type { KnownInstrument } from "@/lib/store/instrument-queries";
import { dueDay } from "../_parts/due-day";
import styles from "../_parts/inspect.module.css";
import { LastDay } from "../_parts/last-day";
import { enterCalibration, enterInstrument, putAway } from "../actions";

interface Props {
  rows: readonly KnownInstrument[];
  may: boolean;
  now: Date;
}

/** The measuring instruments, each with its calibration. */
export function InstrumentSection({ rows, may, now }: Props) {
  return (
    <SideSection head="Instruments" count={rows.length} note="What figures are measured with.">
      {rows.length === 0 ? (
        <p className="soft">None is entered: inspections with figures are limited until there is one.</p>
      ) : (
        <DataTable caption="Instruments" cards top>
          <TableHead
            columns={["Instrument", "Serial number", "Calibrated", "Calibration holds until", ...(may ? [spokenColumn("Change")] : [])]}
          />
          <tbody>
            {rows.map((row) => (
              <tr key={row.id}>
                <td className={cell.wide}>
                  {row.make} {row.model}
                </td>
                <td className={cell.wide}>
                  <Code>{row.serial}</Code>
                </td>
                <td className={cell.wide} data-label="calibrated">
                  <Calibrated row={row} />
                </td>
                <td className={cell.wide} data-label="holds until">
                  <LastDay at={row.calibration?.validUntil ?? null} none="never calibrated" now={now} />
                </td>
                {may && (
                  <td className={cell.wide}>
                    <ChangeIt id={row.id} />
                  </td>
                )}
              </tr>
            ))}
          </tbody>
        </DataTable>
      )}
      {may && <NewInstrument />}
    </SideSection>
  );
}

function Calibrated({ row: { calibration } }: { row: KnownInstrument }) {
  if (!calibration) return "never";
  return [dueDay(calibration.calibratedOn), calibration.certificate].filter(Boolean).join(", ");
}

function CalibrationFields() {
  return (
    <FieldColumns>
      <TextField label="Calibrated on" name="calibratedOn" type="date" required />
      <TextField label="Valid until" name="validUntil" type="date" required />
      <TextField label="Certificate" name="certificate" maxLength={120} />
    </FieldColumns>
  );
}

function ChangeIt({ id }: { id: string }) {
  return (
    <details>
      <summary>New calibration, or put away</summary>
      <ActionForm action={enterCalibration} done="Entered.">
        <FormId />
        <input type="hidden" name="instrumentId" value={id} />
        <CalibrationFields />
        <Acts>
          <Button look="plain">Enter the calibration</Button>
        </Acts>
      </ActionForm>
      <ActionForm action={putAway}>
        <input type="hidden" name="id" value={id} />
        <Acts>
          <Button look="quiet">Put the instrument away</Button>
        </Acts>
      </ActionForm>
    </details>
  );
}

function NewInstrument() {
  return (
    <details className={styles.enter}>
      <summary>Enter an instrument</summary>
      <ActionForm action={enterInstrument} done="Entered.">
        <FormId />
        <FieldColumns>
          <TextField label="Make" name="make" required maxLength={120} />
          <TextField label="Model" name="model" maxLength={120} />
          <TextField label="Serial number" name="serial" code required maxLength={120} />
        </FieldColumns>
        <CalibrationFields />
        <Acts>
          <Button look="plain">Enter the instrument</Button>
        </Acts>
      </ActionForm>
    </details>
  );
}
