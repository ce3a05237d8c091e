using System.Runtime.InteropServices;

namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>
/// Turns decoded bytes into numbers in this machine's byte order: undoes the differences along a row (TIFF 6.0 section 14, and
/// the floating-point predictor of TIFF Technical Note 3) and a foreign byte order.
/// </summary>
internal static class TiffPredictor
{
    public static void Undo(TiffLayout layout, Span<byte> block)
    {
        if (layout.PredictorMethod == 3)
        {
            // Stored byte by byte in order of significance, so that the file's byte order does not matter.
            byte[] row = new byte[layout.RowBytes];
            for (int at = 0; at + row.Length <= block.Length; at += row.Length)
                UndoBytes(block.Slice(at, row.Length), row, layout.ValuesPerCell, layout.Type.Bytes);

            return;
        }

        if (layout.IsBigEndian == BitConverter.IsLittleEndian && layout.Type.Bytes > 1)
            layout.Type.SwapBytes(block);

        if (layout.PredictorMethod == 2 && !layout.Type.IsBit)
        {
            for (int at = 0; at + layout.RowBytes <= block.Length; at += layout.RowBytes)
            {
                Span<byte> row = block.Slice(at, layout.RowBytes);
                switch (layout.Type.Bytes)
                {
                    case 1: Sum(row, layout.ValuesPerCell); break;
                    case 2: Sum(MemoryMarshal.Cast<byte, ushort>(row), layout.ValuesPerCell); break;
                    case 4: Sum(MemoryMarshal.Cast<byte, uint>(row), layout.ValuesPerCell); break;
                    default: Sum(MemoryMarshal.Cast<byte, ulong>(row), layout.ValuesPerCell); break;
                }
            }
        }
    }

    private static void Sum<T>(Span<T> row, int stride)
        where T : unmanaged, System.Numerics.IBinaryInteger<T>
    {
        for (int i = stride; i < row.Length; i++)
            row[i] = unchecked(row[i] + row[i - stride]);
    }

    private static void UndoBytes(Span<byte> row, byte[] copy, int stride, int size)
    {
        Sum(row, stride);
        row.CopyTo(copy);
        int numbers = row.Length / size;
        for (int i = 0; i < numbers; i++)
        {
            for (int b = 0; b < size; b++)
            {
                int place = BitConverter.IsLittleEndian ? size - 1 - b : b;
                row[i * size + place] = copy[b * numbers + i];
            }
        }
    }
}
