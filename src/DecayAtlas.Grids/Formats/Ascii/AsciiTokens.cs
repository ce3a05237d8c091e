using System.Globalization;
using System.Text;

namespace DecayAtlas.Grids.Formats.Ascii;

/// <summary>Walks the white-space separated words of a file from a byte offset on, through one small buffer.</summary>
internal sealed class AsciiTokens
{
    private const int MaxWord = 128;

    private readonly Stream _stream;
    private readonly byte[] _buffer = new byte[1 << 16];
    private readonly byte[] _word = new byte[MaxWord];
    private long _bufferStart;
    private int _filled;
    private int _at;

    public AsciiTokens(Stream stream, long offset)
    {
        _stream = stream;
        _stream.Position = offset;
        _bufferStart = offset;
    }

    public long Start { get; private set; }

    /// <summary>Length of the word; 0 past the end of the file. A longer word than any number is cut.</summary>
    public int Length { get; private set; }

    public string Text => Encoding.Latin1.GetString(_word, 0, Length);

    public bool MoveNext()
    {
        Length = 0;
        int next;
        while ((next = Next()) >= 0 && IsSpace(next))
        {
        }

        Start = _bufferStart + _at - 1;
        for (; next >= 0 && !IsSpace(next); next = Next())
        {
            if (Length < MaxWord)
                _word[Length++] = (byte)next;
        }

        return Length > 0;
    }

    public bool TryNumber(out double value) =>
        double.TryParse(_word.AsSpan(0, Length), NumberStyles.Float, CultureInfo.InvariantCulture, out value) || IsNan(out value);

    // U+FEFF at the start of a file is not part of its first word.
    private static bool IsSpace(int b) => b is ' ' or '\t' or '\r' or '\n' or '\f' or '\v' or 0xEF or 0xBB or 0xBF;

    private bool IsNan(out double value)
    {
        value = double.NaN;
        return Text.Equals("nan", StringComparison.OrdinalIgnoreCase) || Text.Equals("-nan", StringComparison.OrdinalIgnoreCase);
    }

    private int Next()
    {
        if (_at == _filled)
        {
            _bufferStart += _filled;
            _at = 0;
            _filled = _stream.Read(_buffer, 0, _buffer.Length);
            if (_filled == 0)
                return -1;
        }

        return _buffer[_at++];
    }
}
