import PDFDocument from "pdfkit";

/** A document that hands each page its drawing in long pieces: the library makes a buffer of every stroke, and thousands a page are slow. */
export class PagedPdf extends PDFDocument {
  private readonly strokes: string[] = [];

  override addContent(data: unknown): this {
    this.strokes.push(String(data));
    return this;
  }

  /** Gives the page in hand what was drawn on it so far. */
  private settle(): void {
    if (this.strokes.length > 0) this.page.write(this.strokes.join("\n"));
    this.strokes.length = 0;
  }

  override addPage(options?: PDFKit.PDFDocumentOptions): this {
    this.settle();
    super.addPage(options);
    return this;
  }

  override switchToPage(n?: number): PDFKit.PDFPage {
    this.settle();
    return super.switchToPage(n);
  }

  override flushPages(): void {
    this.settle();
    super.flushPages();
  }
}
