using System.IO.Compression;
using DecayAtlas.Grids.GeoTiff;

namespace DecayAtlas.Grids.Tests;

/// <summary>Deflated blocks of all kinds of content, levels and damage: a block comes out whole, as zlib has it, or is refused.</summary>
public sealed class DeflateTests
{
    [Fact]
    public void What_zlib_packs_comes_back_whole_and_in_any_first_part()
    {
        Random random = new(12);
        for (int trial = 0; trial < 300; trial++)
        {
            byte[] content = Content(random, trial);
            byte[] packed = Pack(content, (CompressionLevel)(trial % 4));
            Assert.Equal(content, Unpack(packed, content.Length));
            int part = random.Next(content.Length + 1);
            Assert.Equal(content[..part], Unpack(packed, part));
            Assert.Null(Unpack(packed, content.Length + 1));
        }
    }

    [Fact]
    public void Damage_gives_what_zlib_gives_or_nothing()
    {
        Random random = new(13);
        int refused = 0;
        for (int trial = 0; trial < 2000; trial++)
        {
            byte[] content = Content(random, trial);
            content = content[..Math.Min(3000, content.Length)];
            byte[] packed = Pack(content, (CompressionLevel)(trial % 4));
            byte[] damaged = trial % 3 == 0 ? packed[..random.Next(packed.Length)] : packed;
            for (int flips = trial % 3 == 0 ? 0 : random.Next(1, 4); flips > 0; flips--)
            {
                damaged[random.Next(2) == 0 ? random.Next(damaged.Length) : random.Next(Math.Min(100, damaged.Length))] = (byte)random.Next(256);
            }

            byte[]? ours = Unpack(damaged, content.Length), theirs = Zlib(damaged, content.Length);
            refused += ours is null ? 1 : 0;
            // zlib also refuses a wrong checksum, which is looked at only where a stream is read to its end.
            if (theirs is not null)
            {
                Assert.Equal(theirs, ours);
            }
        }

        Assert.InRange(refused, 300, 1900);
    }

    [Fact]
    public void Invented_bytes_never_do_more_than_be_refused()
    {
        Random random = new(14);
        for (int trial = 0; trial < 20_000; trial++)
        {
            byte[] bytes = new byte[random.Next(2, 400)];
            random.NextBytes(bytes);
            (bytes[0], bytes[1]) = (0x78, 0x9C);
            if (bytes.Length > 2)
            {
                bytes[2] = (byte)((bytes[2] & 0xF8) | random.Next(8)); // every kind of block
            }

            Unpack(bytes, random.Next(0, 2000));
        }
    }

    private static byte[] Content(Random random, int trial)
    {
        int length = trial % 10 == 0 ? random.Next(1, 20) : random.Next(20, 70_000);
        byte[] content = new byte[length];
        switch (trial % 6)
        {
            case 0: random.NextBytes(content); break;
            case 1: Array.Fill(content, (byte)trial); break;
            case 2: Fill(i => (byte)(i % 2 == 0 ? random.Next(16) : i / 5000)); break; // rough ground in 16 bits
            case 3: Fill(i => (byte)"decay of litter in soil "[random.Next(24)]); break;
            case 4: Fill(i => (byte)(i % (3 + trial % 11))); break; // short distances
            default: Fill(i => random.Next(50) == 0 ? (byte)random.Next(256) : (byte)0); break;
        }

        return content;

        void Fill(Func<int, byte> valueOf)
        {
            for (int i = 0; i < content.Length; i++)
            {
                content[i] = valueOf(i);
            }
        }
    }

    private static byte[] Pack(byte[] content, CompressionLevel level)
    {
        using MemoryStream packed = new();
        using (ZLibStream deflate = new(packed, level, leaveOpen: true))
        {
            deflate.Write(content);
        }

        return packed.ToArray();
    }

    private static byte[]? Unpack(byte[] packed, int length)
    {
        byte[] target = new byte[length];
        return TiffCodec.TryDecode(8, packed, packed.Length, target) ? target : null;
    }

    private static byte[]? Zlib(byte[] packed, int length)
    {
        try
        {
            using ZLibStream inflate = new(new MemoryStream(packed), CompressionMode.Decompress);
            byte[] target = new byte[length];
            return inflate.ReadAtLeast(target, length, throwOnEndOfStream: false) == length ? target : null;
        }
        catch (InvalidDataException)
        {
            return null;
        }
    }
}
