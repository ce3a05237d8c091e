using System.Buffers;
using PureHDF;
using PureHDF.Selections;
using PureHDF.VOL.Native;

namespace DecayAtlas.Grids.Formats.Cdf;

/// <summary>Reads the numbers that a file stores as some type, as double.</summary>
internal abstract class HdfNumbers
{
    public static HdfNumbers Of(CdfType type) => (type.Bytes, type.IsFloatingPoint, type.IsSigned) switch
    {
        (1, _, true) => new Stored<sbyte>(),
        (1, _, false) => new Stored<byte>(),
        (2, _, true) => new Stored<short>(),
        (2, _, false) => new Stored<ushort>(),
        (4, false, true) => new Stored<int>(),
        (4, false, false) => new Stored<uint>(),
        (8, false, true) => new Stored<long>(),
        (8, false, false) => new Stored<ulong>(),
        (4, true, _) => new Stored<float>(),
        _ => new Stored<double>(),
    };

    /// <summary>An array of at least that size, rented from the shared pool.</summary>
    public abstract double[] Read(NativeDataset dataset, H5DatasetAccess access, Selection? selection, int size);

    public abstract double[] Read(IH5Attribute attribute, bool single);

    private sealed class Stored<T> : HdfNumbers
        where T : unmanaged, System.Numerics.INumber<T>
    {
        public override double[] Read(NativeDataset dataset, H5DatasetAccess access, Selection? selection, int size)
        {
            // Rented and not made: a large grid is read in thousands of such pieces.
            T[] stored = ArrayPool<T>.Shared.Rent(size);
            double[] values = ArrayPool<double>.Shared.Rent(size);
            dataset.Read<T>(access, stored.AsSpan(0, size), selection);
            for (int i = 0; i < size; i++)
                values[i] = double.CreateTruncating(stored[i]);

            ArrayPool<T>.Shared.Return(stored);
            return values;
        }

        public override double[] Read(IH5Attribute attribute, bool single) =>
            Array.ConvertAll(single ? [attribute.Read<T>()] : attribute.Read<T[]>(), double.CreateTruncating);
    }
}
