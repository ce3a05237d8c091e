using System.Runtime.CompilerServices;
using System.Runtime.InteropServices;

namespace DecayAtlas.Grids.Formats.TiffReading;

/// <summary>How a TIFF stores a number, and the way from stored bytes to scaled doubles.</summary>
internal sealed class SampleType
{
    private readonly Decoder _decode;
    private readonly Picker? _pick;

    private SampleType(int bytes, bool isFloatingPoint, Decoder decode, Picker? pick = null) =>
        (Bytes, IsFloatingPoint, _decode, _pick) = (bytes, isFloatingPoint, decode, pick);

    public int Bytes { get; }

    public bool IsFloatingPoint { get; }

    public bool IsSigned { get; private init; }

    public string Name => IsBit ? "single bits"
        : $"{(IsFloatingPoint ? "floating-point" : IsSigned ? "whole" : "unsigned whole")} numbers of {Bytes * 8} bits";

    /// <summary>Whether a value is one bit, as in masks.</summary>
    public bool IsBit { get; private init; }

    /// <summary>Whether the type holds whole numbers that a double cannot hold exactly.</summary>
    public bool IsWide => !IsFloatingPoint && Bytes == sizeof(long);

    /// <summary>A missing value written as decimal text, rounded as the type rounds, so that it compares.</summary>
    public double? Rounded(double? value) => (IsFloatingPoint, Bytes) switch
    {
        (true, sizeof(float)) => (float?)value,
        (true, 2) => (double?)(Half?)value,
        _ => value,
    };

    /// <summary>The type, or null where the file stores something that is not a number of a supported width.</summary>
    public static SampleType? Of(long bits, long format) => (bits, format) switch
    {
        (1, 1) => new SampleType(1, false, static (stored, _, _, values) =>
        {
            for (int i = 0; i < values.Length; i++)
                values[i] = stored[i >> 3] >> (7 - (i & 7)) & 1;
        })
        { IsBit = true },
        (8, 1) => Make<byte>(),
        (8, 2) => Make<sbyte>(),
        (16, 1) => Make<ushort>(),
        (16, 2) => Make<short>(),
        (32, 1) => Make<uint>(),
        (32, 2) => Make<int>(),
        (64, 1) => Make<ulong>(),
        (64, 2) => Make<long>(),
        (16, 3) => Make<Half>(),
        (32, 3) => Make<float>(),
        (64, 3) => Make<double>(),
        _ => null,
    };

    private delegate void Decoder(ReadOnlySpan<byte> stored, int first, int stride, Span<double> values);

    /// <summary>Takes every <paramref name="stride"/>-th number, from number <paramref name="first"/> on, as double.</summary>
    public void Decode(ReadOnlySpan<byte> stored, int first, int stride, Span<double> values) => _decode(stored, first, stride, values);

    private delegate void Picker(ReadOnlySpan<byte> stored, ReadOnlySpan<int> cells, int first, int stride, Span<double> values);

    /// <summary>Takes the numbers of some cells, which are <paramref name="stride"/> numbers apart, as double.</summary>
    public void Pick(ReadOnlySpan<byte> stored, ReadOnlySpan<int> cells, int first, int stride, Span<double> values) =>
        _pick!(stored, cells, first, stride, values);

    public void SwapBytes(Span<byte> stored)
    {
        for (int at = 0; at + Bytes <= stored.Length; at += Bytes)
            stored.Slice(at, Bytes).Reverse();
    }

    private static SampleType Make<T>()
        where T : unmanaged, System.Numerics.INumber<T> => new(
            Unsafe.SizeOf<T>(),
            typeof(T) == typeof(Half) || typeof(T) == typeof(float) || typeof(T) == typeof(double),
            static (stored, first, stride, values) =>
            {
                ReadOnlySpan<T> numbers = MemoryMarshal.Cast<byte, T>(stored);
                for (int i = 0, at = first; i < values.Length; i++, at += stride)
                    values[i] = double.CreateTruncating(numbers[at]);
            },
            static (stored, cells, first, stride, values) =>
            {
                ReadOnlySpan<T> numbers = MemoryMarshal.Cast<byte, T>(stored);
                for (int i = 0; i < values.Length; i++)
                    values[i] = double.CreateTruncating(numbers[cells[i] * stride + first]);
            })
        {
            IsSigned = T.IsNegative(T.Zero - T.One),
        };
}
