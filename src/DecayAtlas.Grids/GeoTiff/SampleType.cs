using System.Runtime.InteropServices;

namespace DecayAtlas.Grids.GeoTiff;

/// <summary>How a TIFF stores a number, and the way from stored bytes to scaled doubles.</summary>
internal sealed class SampleType
{
    private readonly Action<byte[], int, int, double[]> _decode;

    private SampleType(int bytes, bool isFloatingPoint, Action<byte[], int, int, double[]> decode)
    {
        Bytes = bytes;
        IsFloatingPoint = isFloatingPoint;
        _decode = decode;
    }

    /// <summary>Bytes a value takes.</summary>
    public int Bytes { get; }

    public bool IsFloatingPoint { get; }

    /// <summary>Whether a missing value written as decimal text must be rounded to single precision to compare.</summary>
    public bool IsSingle => IsFloatingPoint && Bytes == sizeof(float);

    /// <summary>The type, or null where the file stores something that is not a number of a supported width.</summary>
    public static SampleType? Of(long bits, long format) => (bits, format) switch
    {
        (8, 1) => Make<byte>(),
        (8, 2) => Make<sbyte>(),
        (16, 1) => Make<ushort>(),
        (16, 2) => Make<short>(),
        (32, 1) => Make<uint>(),
        (32, 2) => Make<int>(),
        (32, 3) => Make<float>(),
        (64, 3) => Make<double>(),
        _ => null,
    };

    /// <summary>Takes every <paramref name="stride"/>-th number, from number <paramref name="first"/> on, as double.</summary>
    public void Decode(byte[] stored, int first, int stride, double[] values) => _decode(stored, first, stride, values);

    /// <summary>Turns the bytes of every number around.</summary>
    public void SwapBytes(byte[] stored)
    {
        for (int at = 0; at + Bytes <= stored.Length; at += Bytes)
        {
            stored.AsSpan(at, Bytes).Reverse();
        }
    }

    private static SampleType Make<T>()
        where T : unmanaged, System.Numerics.INumber<T> => new(
            Marshal.SizeOf<T>(),
            typeof(T) == typeof(float) || typeof(T) == typeof(double),
            static (stored, first, stride, values) =>
            {
                ReadOnlySpan<T> numbers = MemoryMarshal.Cast<byte, T>(stored);
                for (int i = 0, at = first; i < values.Length; i++, at += stride)
                {
                    values[i] = double.CreateTruncating(numbers[at]);
                }
            });
}
