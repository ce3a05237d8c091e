using System.Globalization;
using System.Text.Json.Nodes;
using YamlDotNet.Core;
using YamlDotNet.Core.Events;
using YamlDotNet.RepresentationModel;
using ScalarEvent = YamlDotNet.Core.Events.Scalar;

namespace DecayAtlas.Text.Documents;

/// <summary>A YAML file cannot be used; the message starts with file:line and says what was found and expected.</summary>
public sealed class YamlDocumentException : Exception
{
    public YamlDocumentException(string message, Exception? innerException = null) : base(message, innerException) { }

    internal YamlDocumentException(string file, long? line, string sentence, Exception? innerException = null)
        : base(line is null ? $"{file}: {sentence}" : string.Create(CultureInfo.InvariantCulture, $"{file}:{line}: {sentence}"),
            innerException)
    {
        Line = line;
        Sentence = sentence;
    }

    /// <summary>Line (from 1) of the fault, where there is one.</summary>
    public long? Line { get; }

    /// <summary>The message without file and line; empty when the fault was not made by <see cref="YamlDocument"/>.</summary>
    public string Sentence { get; } = "";
}

/// <summary>
/// A YAML file as JSON, validated against a JSON Schema, that still knows on which line each value stands. The
/// scalars follow the core schema of YAML 1.2: plain null, true, false and numbers are what they look like, anything
/// else and anything quoted is text.
/// </summary>
public sealed class YamlDocument
{
    /// <summary>Most values a document may hold once its aliases are followed.</summary>
    public const int MaxNodes = 200_000;

    /// <summary>Longest file read, bytes.</summary>
    public const long MaxBytes = 16L << 20;

    /// <summary>Longest text in a document, and longest key, letters.</summary>
    public const int MaxText = 100_000, MaxKey = 2000;

    private const int MaxDepth = 60;

    // Letters of the places of all values together. A place repeats every key above it, so that a long key above many values would
    // otherwise take memory without end.
    private const long MaxLetters = 32L << 20;

    private readonly Dictionary<string, long> _lines = [];
    private long _lastLine = 1;
    private long _letters;

    private YamlDocument(string path) => Path = path;

    public string Path { get; }

    /// <summary>The document; an object or array for every schema of this project.</summary>
    public JsonNode Root { get; private set; } = new JsonObject();

    /// <summary>Reads and validates a file and keeps its line numbers, for checks that a schema cannot state.</summary>
    /// <exception cref="YamlDocumentException">The file is absent, not YAML, or not what the schema asks for.</exception>
    public static YamlDocument Open(string path, string schemaJson)
    {
        YamlDocument document = Parse(path, () => File.OpenRead(path));
        document.Validate(schemaJson);
        return document;
    }

    /// <summary>Reads a document from any stream and checks nothing but that it is YAML; see <see cref="Validate"/>.</summary>
    /// <param name="name">Stands for the file in every message.</param>
    /// <exception cref="YamlDocumentException">It is not YAML, or too large.</exception>
    public static YamlDocument Parse(string name, Func<Stream> open)
    {
        YamlDocument document = new(name);
        YamlNode root = document.Parse(open);
        int budget = MaxNodes;
        document.Root = document.Convert(root, "", 0, ref budget)
            ?? throw document.At("", "found an empty document, and a mapping was expected.");
        return document;
    }

    /// <summary>Holds the document against a JSON Schema.</summary>
    /// <exception cref="YamlDocumentException">It is not what the schema asks for; the first failure is told.</exception>
    public void Validate(string schemaJson)
    {
        if (SchemaCheck.Faults(this, schemaJson) is [var first, ..])
            throw first;
    }

    /// <summary>All that is wrong with it, in the order of the file.</summary>
    public IReadOnlyList<YamlDocumentException> Faults(string schemaJson) => SchemaCheck.Faults(this, schemaJson);

    /// <summary>The line (from 1) of the value at a JSON Pointer such as /grids/0/rule.</summary>
    public long LineOf(string place)
    {
        for (string at = place; at.Length > 0; at = at[..at.LastIndexOf('/')])
        {
            if (_lines.TryGetValue(at, out long line))
                return line;
        }

        return _lines.GetValueOrDefault("", 1);
    }

    /// <summary>A failure at the value at a JSON Pointer: "file:line: sentence".</summary>
    public YamlDocumentException At(string place, string sentence) => new(Path, LineOf(place), sentence);

    private YamlNode Parse(Func<Stream> open)
    {
        try
        {
            using MemoryStream bytes = ReadShort(open);
            RequireModest(bytes);
            bytes.Position = 0;
            using StreamReader reader = new(bytes);
            YamlStream stream = new();
            stream.Load(reader);
            return stream.Documents.Count == 1
                ? stream.Documents[0].RootNode
                : throw At("", $"found {stream.Documents.Count} YAML documents, and one was expected.");
        }
        catch (YamlException e)
        {
            string why = (e.InnerException ?? e).Message.TrimEnd('.');
            throw new YamlDocumentException(Path, e.Start.Line, $"this is not YAML: {why}.", e);
        }
        catch (InvalidOperationException e)
        {
            // The scanner's answer to some broken plain text; it names no place, the last good event does.
            throw new YamlDocumentException(Path, _lastLine, "this is not YAML from here on: a bracket or a quotation mark may be open.",
                e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or ArgumentException)
        {
            string why = e is FileNotFoundException or DirectoryNotFoundException ? "there is no such file" : e.Message.TrimEnd('.');
            throw new YamlDocumentException($"{Path} cannot be read: {why}.", e);
        }
    }

    // Counted while reading: the length that a folder or an archive states is not to be trusted.
    private MemoryStream ReadShort(Func<Stream> open)
    {
        using Stream stream = open();
        MemoryStream held = new();
        byte[] buffer = new byte[1 << 16];
        int read;
        while ((read = stream.Read(buffer)) > 0)
        {
            held.Write(buffer, 0, read);
            if (held.Length > MaxBytes)
            {
                throw new YamlDocumentException(Path, null,
                    $"the file is longer than {MaxBytes} bytes, far more than a hand-written configuration.");
            }
        }
        held.Position = 0;
        return held;
    }

    // Counts levels without recursion, because building the tree of a hostile file would overflow the stack, and lengths before anything
    // looks at a text. A key that is itself a list or an alias is refused here: the tree would be built by comparing such keys, and with
    // aliases in aliases that never ends.
    private void RequireModest(Stream bytes)
    {
        using StreamReader reader = new(bytes, leaveOpen: true);
        Parser parser = new(reader);
        int depth = 0;
        Stack<bool?> keyIsNext = new();   // of each open list (null) or mapping
        while (parser.MoveNext())
        {
            ParsingEvent now = parser.Current!;
            _lastLine = now.Start.Line;
            depth += now.NestingIncrease;
            if (depth > MaxDepth)
                throw new YamlDocumentException(Path, now.Start.Line, $"found more than {MaxDepth} levels of nesting.");

            if (now is MappingEnd or SequenceEnd)
            {
                keyIsNext.Pop();
                continue;
            }

            if (now is not (NodeEvent or AnchorAlias))
                continue;

            bool isKey = keyIsNext.TryPeek(out bool? next) && next == true;
            if (next is { } wasKey)
            {
                keyIsNext.Pop();
                keyIsNext.Push(!wasKey);
            }

            if (isKey && now is not ScalarEvent)
                throw new YamlDocumentException(Path, now.Start.Line, "found a key that is not plain text.");

            if (now is ScalarEvent { Value.Length: var length } && length > (isKey ? MaxKey : MaxText))
            {
                throw new YamlDocumentException(Path, now.Start.Line, isKey
                    ? $"found a key of {length} letters, and one has at most {MaxKey}."
                    : $"found a text of {length} letters, and one has at most {MaxText}.");
            }

            if (now is MappingStart or SequenceStart)
                keyIsNext.Push(now is MappingStart ? true : null);
        }
    }

    private JsonNode? Convert(YamlNode node, string pointer, int depth, ref int budget)
    {
        _lines.TryAdd(pointer, node.Start.Line);
        _letters += pointer.Length;
        if (_letters > MaxLetters)
        {
            throw new YamlDocumentException(Path, node.Start.Line,
                "found long keys above so many values that it is no document written by a person.");
        }

        if (--budget < 0 || depth > MaxDepth)
        {
            throw At(pointer,
                $"the document holds more than {MaxNodes} values or {MaxDepth} levels; aliases that multiply are not followed.");
        }

        switch (node)
        {
            case YamlMappingNode mapping:
                JsonObject json = [];
                foreach ((YamlNode key, YamlNode value) in mapping.Children)
                {
                    string name = (key as YamlScalarNode)?.Value
                        ?? throw At(pointer, "found a key that is not plain text.");
                    RequireWhole(name, pointer);
                    string at = pointer + "/" + JsonPlace.Escaped(name);
                    // The key's line is where a person looks, also when the value starts on the next one.
                    _lines.TryAdd(at, key.Start.Line);
                    if (!json.TryAdd(name, Convert(value, at, depth + 1, ref budget)))
                        throw At(at, $"found the key {name} twice.");
                }

                return json;
            case YamlSequenceNode sequence:
                JsonArray array = [];
                foreach (YamlNode item in sequence.Children)
                {
                    string at = string.Create(CultureInfo.InvariantCulture, $"{pointer}/{array.Count}");
                    array.Add(Convert(item, at, depth + 1, ref budget));
                }

                return array;
            case YamlScalarNode scalar:
                RequireWhole(scalar.Value ?? "", pointer);
                return Scalar(scalar);
            default:
                throw At(pointer, "found a value of an unknown YAML kind.");
        }
    }

    private void RequireWhole(string text, string pointer)
    {
        if (HalfLetter.IsIn(text))
            throw At(pointer, "found half a letter in a text or a key, and whole letters were expected.");
    }

    private static JsonValue? Scalar(YamlScalarNode scalar)
    {
        string text = scalar.Value ?? "";
        if (scalar.Style != ScalarStyle.Plain)
            return JsonValue.Create(text);

        return text switch
        {
            "" or "~" or "null" or "Null" or "NULL" => null,
            "true" or "True" or "TRUE" => JsonValue.Create(true),
            "false" or "False" or "FALSE" => JsonValue.Create(false),
            _ when LooksLikeNumber(text) && long.TryParse(text, NumberStyles.AllowLeadingSign, CultureInfo.InvariantCulture, out long whole)
                => JsonValue.Create(whole),
            _ when LooksLikeNumber(text) && double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out double number)
                && double.IsFinite(number) => JsonValue.Create(number),
            _ => JsonValue.Create(text),
        };
    }

    private static bool LooksLikeNumber(string text) =>
        text.Any(char.IsAsciiDigit) && text.All(c => char.IsAsciiDigit(c) || c is '+' or '-' or '.' or 'e' or 'E');
}
