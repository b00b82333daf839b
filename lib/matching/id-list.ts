/** Ids collected for one question after another: emptied and filled again without taking new memory. */
export class IdList {
  ids = new Int32Array(64);
  count = 0;

  add(id: number): void {
    if (this.count === this.ids.length) this.grow();
    this.ids[this.count++] = id;
  }

  clear(): void {
    this.count = 0;
  }

  private grow(): void {
    const wider = new Int32Array(this.ids.length * 2);
    wider.set(this.ids);
    this.ids = wider;
  }
}
