namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>The mask that a TIFF may carry beside its image (TIFF 6.0, subfile type 4): 0 says that a cell has no value.</summary>
internal sealed class TiffMask(TiffBlocks blocks)
{
    private readonly Lock _gate = new();
    private (int Block, double[]? Values) _last = (-1, null);

    /// <summary>Finds the mask of the image among the directories that follow it; null where there is none.</summary>
    public static TiffLayout? LayoutOf(string path, TiffDirectory image, TiffLayout imageLayout)
    {
        if (image.Following().FirstOrDefault(d => d.Integer(TiffTag.NewSubfileType, 0) == 4) is not { } directory)
            return null;

        TiffLayout layout = TiffLayout.ReadMask(path, directory);
        return layout.Columns == imageLayout.Columns && layout.Rows == imageLayout.Rows && layout.Bands == 1
            ? layout
            : throw new GridException(
                $"{path} carries a mask of {layout.Columns} by {layout.Rows} cells for an image of {imageLayout.Columns} by "
                + $"{imageLayout.Rows}; the file is damaged.");
    }

    public void Apply(int column, int row, int columns, int rows, int stride, double[] values)
    {
        TiffLayout layout = blocks.Layout;
        for (int y = row; y < row + rows; y++)
        {
            for (int x = column; x < column + columns;)
            {
                int blockColumn = x / layout.BlockColumns, blockRow = y / layout.BlockRows;
                double[]? mask = Block(blockColumn, blockRow);
                int end = (int)Math.Min(column + columns, (blockColumn + 1L) * layout.BlockColumns);
                int from = (y - blockRow * layout.BlockRows) * layout.BlockColumns - blockColumn * layout.BlockColumns;
                for (; x < end; x++)
                {
                    // A mask block that was never written is all 0.
                    if (mask is null || mask[from + x] == 0)
                        values[(y - row) * stride + (x - column)] = double.NaN;
                }
            }
        }
    }

    private double[]? Block(int blockColumn, int blockRow)
    {
        TiffLayout layout = blocks.Layout;
        int block = layout.BlockIndex(blockColumn, blockRow, 0);
        lock (_gate)
        {
            if (_last.Block != block)
            {
                int rows = layout.RowsIn(blockRow);
                double[]? values = null;
                blocks.Read(block, rows, stored =>
                {
                    values = new double[rows * layout.BlockColumns];
                    for (int y = 0; y < rows; y++)
                    {
                        layout.Type.Decode(
                            stored.Slice(y * layout.RowBytes, layout.RowBytes), 0, 1,
                            values.AsSpan(y * layout.BlockColumns, layout.BlockColumns));
                    }
                });
                _last = (block, values);
            }

            return _last.Values;
        }
    }
}
