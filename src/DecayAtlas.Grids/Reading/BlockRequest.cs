namespace DecayAtlas.Grids.Reading;

/// <summary>Cells of one block that are wanted.</summary>
/// <param name="Column">Column of the block.</param>
/// <param name="Row">Row of the block.</param>
/// <param name="Cells">Where each cell stands in the block, row by row.</param>
/// <param name="Targets">Where its value goes.</param>
internal sealed record BlockRequest(int Column, int Row, int[] Cells, ReadOnlyMemory<int> Targets);
