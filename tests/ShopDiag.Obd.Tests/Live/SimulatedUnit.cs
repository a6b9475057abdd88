using System.Collections.Immutable;
using System.Threading.Channels;
using ShopDiag.Obd.Frames;
using ShopDiag.Obd.Live;
using ShopDiag.Obd.Transport;

namespace ShopDiag.Obd.Tests.Live;

/// <summary>A control unit that answers by a table. It waits for flow control before it sends the rest of a long answer, as a real one does.</summary>
internal sealed class SimulatedUnit(IObdLink link, CanId id)
{
    private readonly Dictionary<string, string> _answers = [];
    private Queue<CanFrame> _rest = new();

    public CanId AskAll { get; private set; } = CanId.AskAll;

    public SimulatedUnit WithAskAll(CanId askAll)
    {
        AskAll = askAll;
        return this;
    }

    /// <summary>Requests that came, as hexadecimal digits.</summary>
    public List<string> Asked { get; } = [];

    public SimulatedUnit Says(string request, string answer)
    {
        _answers[request.Replace(" ", "", StringComparison.Ordinal)] = answer;
        return this;
    }

    public async Task RunAsync(CancellationToken cancel)
    {
        while (await link.ReceiveAsync(cancel) is { } frame)
        {
            if (frame.Id == id.Reverse && frame.Data[0] >> 4 == 3)
            {
                while (_rest.TryDequeue(out var next))
                {
                    await link.SendAsync(next, cancel);
                }
            }
            else if (frame.Id == AskAll)
            {
                var request = Convert.ToHexString(frame.Data.AsSpan().Slice(1, frame.Data[0]));
                Asked.Add(request);
                await AnswerAsync(request, cancel);
            }
        }
    }

    private async Task AnswerAsync(string request, CancellationToken cancel)
    {
        // Several messages may follow one request: first that it takes a while, then the answer.
        foreach (var answer in _answers.GetValueOrDefault(request, "").Split('|', StringSplitOptions.RemoveEmptyEntries))
        {
            ImmutableArray<CanFrame> frames = Segmenter.Cut(id, Decoded.Bytes(answer));
            await link.SendAsync(frames[0], cancel);
            _rest = new Queue<CanFrame>(frames[1..]);
        }
    }

    /// <summary>Two ends of a bus made of a pair of streams.</summary>
    public static (IObdLink Tester, IObdLink Unit) Bus()
    {
        var (there, back) = (new PipeOfBytes(), new PipeOfBytes());
        return (new StreamObdLink(back, there), new StreamObdLink(there, back));
    }

    /// <summary>A stream in memory: what is written can be read, once.</summary>
    private sealed class PipeOfBytes : Stream
    {
        private readonly Channel<byte[]> _pieces = Channel.CreateUnbounded<byte[]>();
        private byte[] _current = [];

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => true;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => throw new NotSupportedException(); set => throw new NotSupportedException(); }

        public override void Flush()
        {
        }

        public override int Read(byte[] buffer, int offset, int count) => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => _pieces.Writer.TryWrite(buffer.AsSpan(offset, count).ToArray());

        public override ValueTask WriteAsync(ReadOnlyMemory<byte> buffer, CancellationToken cancellationToken = default) =>
            _pieces.Writer.TryWrite(buffer.ToArray()) ? ValueTask.CompletedTask : throw new IOException("The other end has closed.");

        public override async ValueTask<int> ReadAsync(Memory<byte> buffer, CancellationToken cancellationToken = default)
        {
            if (_current.Length == 0 && (!await _pieces.Reader.WaitToReadAsync(cancellationToken) || !_pieces.Reader.TryRead(out _current!)))
            {
                return 0;
            }

            // In small pieces, so that a frame comes in several reads.
            var taken = Math.Min(Math.Min(buffer.Length, 5), _current.Length);
            _current.AsSpan(0, taken).CopyTo(buffer.Span);
            _current = _current[taken..];
            return taken;
        }

        protected override void Dispose(bool disposing)
        {
            _pieces.Writer.TryComplete();
            base.Dispose(disposing);
        }
    }
}
