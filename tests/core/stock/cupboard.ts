/** Materials and needs to try the stockroom on; every one invented. */
import type { CutPiece, Material, MaterialNeed } from '../../../core/stock/material.ts';

export function material(id: string, given: Partial<Material>): Material {
  return {
    id,
    name: id,
    kind: 'kraft paper',
    unit: 'sheet',
    packQuantity: 10,
    packPriceMinor: 1000,
    supplier: 'Invented & Sons',
    leadDays: 7,
    shelfLifeDays: null,
    sheetHeightMm: 1000,
    sheetWidthMm: 700,
    grain: 'long',
    caliperMm: null,
    colour: '',
    place: '',
    note: '',
    hazardSheet: '',
    ...given,
  };
}

export function cutNeed(kind: Material['kind'], cut: Omit<CutPiece, 'what'>): MaterialNeed {
  const quantity = (cut.heightMm * cut.widthMm * cut.count) / 1e6;
  return { kind, unit: 'm2', quantity, cut: { ...cut, what: 'piece' }, working: 'as cut' };
}
