// Messages between a worker and whoever made it: whole objects, which the browser hands over.
import {
  AbstractMessageReader,
  AbstractMessageWriter,
  type DataCallback,
  type Disposable,
  type Message,
  type MessageReader,
  type MessageWriter,
} from 'vscode-jsonrpc'

/** A worker seen from outside, or its global scope seen from within. */
export interface Port {
  postMessage(message: unknown): void
  onmessage: ((event: { readonly data: unknown }) => void) | null
}

export const portTransport = (port: Port): [MessageReader & { fireClose(): void }, MessageWriter] => [
  new PortReader(port),
  new PortWriter(port),
]

class PortReader extends AbstractMessageReader implements MessageReader {
  constructor(private readonly port: Port) {
    super()
  }

  listen(heard: DataCallback): Disposable {
    this.port.onmessage = ({ data }) => heard(data as Message)
    return {
      dispose: () => {
        this.port.onmessage = null
      },
    }
  }

  override fireClose(): void {
    super.fireClose()
  }
}

class PortWriter extends AbstractMessageWriter implements MessageWriter {
  constructor(private readonly port: Port) {
    super()
  }

  write(message: Message): Promise<void> {
    this.port.postMessage(message)
    return Promise.resolve()
  }

  end(): void {
    // A port stays open as long as the worker lives.
  }
}
