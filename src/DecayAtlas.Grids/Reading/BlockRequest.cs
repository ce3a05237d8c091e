namespace DecayAtlas.Grids.Reading;

/// <param name="Cells">Where each cell stands in the block, row by row.</param>
/// <param name="Targets">Where its value goes.</param>
internal sealed record BlockRequest(int Column, int Row, int[] Cells, ReadOnlyMemory<int> Targets);
