namespace DecayAtlas.Contributions.Tables;

/// <summary>Gives back text that was already taken from a reader, then the rest of the reader.</summary>
internal sealed class PrefixedReader(string prefix, TextReader rest) : TextReader
{
    private readonly StringReader _first = new(prefix);

    public override int Peek() => _first.Peek() is >= 0 and int next ? next : rest.Peek();

    public override int Read() => _first.Read() is >= 0 and int next ? next : rest.Read();

    public override int Read(char[] buffer, int index, int count) => Read(buffer.AsSpan(index, count));

    public override int Read(Span<char> buffer) => _first.Read(buffer) is > 0 and int read ? read : rest.Read(buffer);
}
